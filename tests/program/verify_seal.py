#!/usr/bin/env python3
"""Checks a released key, one leaf, a ledger or a proof, from the page FORMAT.md alone.

    verify_seal.py key.json ROOT
    verify_seal.py leaf.json ROOT
    verify_seal.py entry.json HEAD
    verify_seal.py growth.json HEAD
    verify_seal.py ledger.txt HEAD

Standard library only. Ends with 0 when all is as it was written, with 1 when it is not.
"""
import base64
import hashlib
import hmac
import json
import sys

sha = lambda data: hashlib.sha256(data).digest()
leaf_hash = lambda data: sha(b"\x00" + data)
node_hash = lambda left, right: sha(b"\x01" + left + right)


def once(pairs):
    members = dict(pairs)
    if len(members) != len(pairs):
        raise ValueError("a member stands twice")
    return members


def read(text):
    return json.loads(text, object_pairs_hook=once)


def canonical(value):
    """RFC 8785 for what these files hold: no numbers but whole ones."""
    if isinstance(value, dict):
        keys = sorted(value, key=lambda key: key.encode("utf-16-be"))
        return "{" + ",".join(canonical(key) + ":" + canonical(value[key]) for key in keys) + "}"
    if isinstance(value, list):
        return "[" + ",".join(canonical(item) for item in value) + "]"
    if isinstance(value, float):
        raise ValueError("a number that is not whole")
    return json.dumps(value, ensure_ascii=False, separators=(",", ":"))


def root_of(hashes):
    if not hashes:
        return sha(b"")
    if len(hashes) == 1:
        return hashes[0]
    half = 1
    while half * 2 < len(hashes):
        half *= 2
    return node_hash(root_of(hashes[:half]), root_of(hashes[half:]))


def commit(domain, salt, message):
    fields = (domain.encode(), salt, message)
    return sha(b"".join(len(field).to_bytes(8, "big") + field for field in fields))


def seal_leaf(leaf):
    named = canonical({"leaf": leaf["leaf"], "holds": leaf["holds"]})
    return leaf_hash(commit("valinch seal 1", bytes.fromhex(leaf["salt"]), named.encode()))


def hkdf(secret, salt, info):
    """RFC 5869 with SHA-256, 32 bytes."""
    key = hmac.new(salt, secret, hashlib.sha256).digest()
    return hmac.new(key, info + b"\x01", hashlib.sha256).digest()


def digest(words):
    bare = words.replace("-", "").replace(" ", "").upper()
    if len(bare) == 64:
        return bytes.fromhex(bare)
    return base64.b32decode(bare + "=" * (-len(bare) % 8))


def included(leaf, place, size, path):
    """RFC 9162, 2.1.3.2: the root that the path leads to, or nothing."""
    if place >= size:
        return None
    first, last, node = place, size - 1, leaf
    for step in path:
        if last == 0:
            return None
        if first & 1 or first == last:
            node = node_hash(step, node)
            while not first & 1 and first:
                first, last = first >> 1, last >> 1
        else:
            node = node_hash(node, step)
        first, last = first >> 1, last >> 1
    return node if last == 0 else None


def grown(size1, root1, size2, path):
    """RFC 9162, 2.1.4.2: the later root that the path leads to, or nothing."""
    if size1 == size2:
        return root1 if not path else None
    if not 0 < size1 < size2 or not path:
        return None
    steps = list(path) if size1 & (size1 - 1) else [root1] + list(path)
    first, last = size1 - 1, size2 - 1
    while first & 1:
        first, last = first >> 1, last >> 1
    old = new = steps[0]
    for step in steps[1:]:
        if last == 0:
            return None
        if first & 1 or first == last:
            old, new = node_hash(step, old), node_hash(step, new)
            while not first & 1 and first:
                first, last = first >> 1, last >> 1
        else:
            new = node_hash(new, step)
        first, last = first >> 1, last >> 1
    return new if last == 0 and old == root1 else None


def check_key(key, root):
    hashes = [seal_leaf(leaf) for leaf in key["leaves"]]
    assert root_of(hashes) == root, "the leaves do not give this root"
    seed = bytes.fromhex(next(x for x in key["leaves"] if x["leaf"] == "seed")["holds"]["seed"])
    for leaf in key["leaves"]:
        salt = hkdf(seed, b"valinch seal 1", leaf["leaf"].encode())
        assert salt.hex() == leaf["salt"], "a salt is not made from the seed"
    print(len(hashes), "leaves stand below the root")


def check_ledger(lines, head):
    size, root = head
    previous, leaves = "0" * 64, []
    for number, line in enumerate(lines):
        entry = read(line)
        assert canonical(entry) == line, f"entry {number} is not in its canonical form"
        assert entry["number"] == number, f"entry {number} has another number"
        assert entry["previous"] == previous, f"entry {number} does not follow from the one before"
        leaves.append(leaf_hash(line.encode()))
        previous = leaves[-1].hex()
    assert len(leaves) >= size, "the end was cut off"
    assert root_of(leaves[:size]) == root, "these are not the entries of this head"
    print(len(leaves), "entries go on from the head")


def main(path, words):
    text = open(path, encoding="utf-8", newline="").read()
    head = None
    if ":" in words:
        size, words = words.split(":", 1)
        head = (int(size), digest(words))
    root = digest(words)
    try:
        form = read(text).get("format")
    except ValueError:
        form = None
    if form == "valinch key 1":
        return check_key(read(text), root)
    if form is None:
        assert text.endswith("\n"), "the last line has no end"
        return check_ledger(text[:-1].split("\n"), head)
    value = read(text)
    way = [bytes.fromhex(step) for step in value["path"]]
    if form == "valinch leaf 1":
        found = included(seal_leaf(value), value["place"], value["size"], way)
        assert found == root, "the leaf does not stand below this root"
        return print(value["leaf"], "stands below the root:", json.dumps(value["holds"]))
    if form == "valinch inclusion 1":
        found = included(leaf_hash(value["entry"].encode()), value["place"], value["size"], way)
        assert (value["size"], found) == head, "the entry does not stand in this ledger"
        return print(value["entry"])
    if form == "valinch consistency 1":
        found = grown(value["size1"], bytes.fromhex(value["root1"]), value["size2"], way)
        assert (value["size2"], found) == head, "the ledger does not go on to this head"
        return print("the ledger goes on from its first", value["size1"], "entries")
    raise AssertionError("this file says nothing that can be checked")


if __name__ == "__main__":
    try:
        main(*sys.argv[1:])
    except (AssertionError, ValueError, KeyError, TypeError) as why:
        print("not as it was written:", why)
        sys.exit(1)
