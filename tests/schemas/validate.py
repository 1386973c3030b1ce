"""Judges texts by a schema with the library jsonschema, which knows nothing of this project.

Reads one JSON object a line from standard input: {"schema": path, "text": YAML}. Writes one line
each: "true" where the text satisfies the schema, "false" where not.
"""

import json
import re
import sys

import jsonschema
import yaml


class Plain(getattr(yaml, "CSafeLoader", yaml.SafeLoader)):
    """YAML as editors and the program take it: true and false, numbers, texts; no dates."""


Plain.yaml_implicit_resolvers = {}
for tag, pattern, first in [
    ("tag:yaml.org,2002:bool", r"^(?:true|false)$", "tf"),
    ("tag:yaml.org,2002:null", r"^(?:~|null|)$", ["~", "n", ""]),
    ("tag:yaml.org,2002:int", r"^[-+]?(?:0|[1-9][0-9]*)$", "-+0123456789"),
    ("tag:yaml.org,2002:float", r"^[-+]?[0-9]+\.[0-9]+$", "-+0123456789"),
]:
    Plain.add_implicit_resolver(tag, re.compile(pattern), list(first))

judges = {}
for line in sys.stdin:
    asked = json.loads(line)
    path = asked["schema"]
    if path not in judges:
        with open(path, encoding="utf-8") as file:
            schema = json.load(file)
        jsonschema.Draft7Validator.check_schema(schema)
        judges[path] = jsonschema.Draft7Validator(schema)
    try:
        read = json.loads(asked["text"])
    except ValueError:
        read = yaml.load(asked["text"], Loader=Plain)
    print("true" if judges[path].is_valid(read) else "false")
