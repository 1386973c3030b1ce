-- A register of version 1, made by the program of that version from the exam in tests/papers/small-exam
-- and written out as text; the bank's texts are left out.
PRAGMA application_id = 1986096177;
PRAGMA user_version = 1;
CREATE TABLE act (place INTEGER PRIMARY KEY, what TEXT NOT NULL) STRICT;
INSERT INTO "act" VALUES(1,'assembled');
CREATE TABLE answer (
    candidate TEXT NOT NULL REFERENCES candidate (number),
    item TEXT NOT NULL,
    answer TEXT NOT NULL,
    source TEXT NOT NULL,
    line INTEGER NOT NULL,
    PRIMARY KEY (candidate, item)
) STRICT, WITHOUT ROWID;
CREATE TABLE candidate (
    place INTEGER PRIMARY KEY,
    number TEXT NOT NULL UNIQUE,
    service TEXT NOT NULL,
    seat TEXT,
    form TEXT
) STRICT;
INSERT INTO "candidate" VALUES(0,'S-1','room','a2','A');
INSERT INTO "candidate" VALUES(1,'S-2','room','a1','A');
INSERT INTO "candidate" VALUES(2,'S-3','kit',NULL,'A');
CREATE TABLE form_question (
    form TEXT NOT NULL,
    form_place INTEGER NOT NULL,
    number INTEGER NOT NULL,
    question TEXT NOT NULL,
    printed_order TEXT NOT NULL,
    counts INTEGER NOT NULL,
    PRIMARY KEY (form_place, number)
) STRICT;
INSERT INTO "form_question" VALUES('A',0,1,'eu-rum-strength','0 1 2',1);
INSERT INTO "form_question" VALUES('A',0,2,'raw-material-match','3 0 2 1',1);
INSERT INTO "form_question" VALUES('A',0,3,'spirit-to-water','',1);
INSERT INTO "form_question" VALUES('A',0,4,'word-for-feints','',1);
INSERT INTO "form_question" VALUES('A',0,5,'batch-order','2 0 3 1',1);
INSERT INTO "form_question" VALUES('A',0,6,'still-fractions','0 1 2',1);
CREATE TABLE glass (
    candidate TEXT NOT NULL REFERENCES candidate (number),
    place INTEGER NOT NULL,
    code TEXT NOT NULL,
    sample TEXT NOT NULL,
    PRIMARY KEY (candidate, place)
) STRICT;
INSERT INTO "glass" VALUES('S-1',1,'373','cane-copper-8');
INSERT INTO "glass" VALUES('S-2',1,'373','cane-copper-8');
INSERT INTO "glass" VALUES('S-3',1,'373','cane-copper-8');
CREATE TABLE input (
    place INTEGER PRIMARY KEY,
    name TEXT NOT NULL UNIQUE,
    digest TEXT NOT NULL,
    content TEXT NOT NULL
) STRICT;
INSERT INTO "input" VALUES(7,'plan.yaml','2a46dcf6f0401b492db9af58be63e9e642b8b21da3d2e638081253dd68a71c1b','title: Small exam for golden papers
school: School of the small exam
date: 2031-03-14
start: "10:00"
bank: bank
theory:
  minutes: 20
  cells: { law-and-labels: 3, distillation: 3 }
tasting:
  minutes: 15
  samples: [cane-copper-8]
  ask:
    aroma: { marks: 10, words: 4 }
    category: { marks: 3 }
    age: { marks: 2, as: range }
    quality: { marks: 1 }
  pour: { volume: 20, strength: 40 }
pass: { theory: 60, tasting: 50 }
');
INSERT INTO "input" VALUES(8,'room.yaml','4e73f3126b281ac487c1e14c65315c6133c326ed52ad0929fa305f5be9800b6e','room: Small room
tables:
  - { id: a, seats: 3 }
');
INSERT INTO "input" VALUES(9,'roster.csv','097a90c5e573114b63b561c360dcf0cb89f9419c3fda162bbc65b6f5db9a0374','candidate,name,service,note
S-1,Ilse Vandermoor,room,
S-2,Tomás Quirrel,room,
S-3,Aiko Brandt,kit,posted
');
CREATE TABLE mark (
    candidate TEXT NOT NULL REFERENCES candidate (number),
    part TEXT NOT NULL CHECK (part IN ('theory', 'tasting')),
    place INTEGER NOT NULL,
    question TEXT NOT NULL,
    asked TEXT NOT NULL,
    code TEXT NOT NULL,
    answer TEXT NOT NULL,
    thousandths INTEGER NOT NULL,
    of_thousandths INTEGER NOT NULL,
    counts INTEGER NOT NULL,
    extra INTEGER NOT NULL,
    waiting INTEGER NOT NULL,
    reason TEXT NOT NULL,
    rule TEXT NOT NULL,
    near TEXT NOT NULL,
    PRIMARY KEY (candidate, part, place, asked)
) STRICT, WITHOUT ROWID;
CREATE TABLE seed (only INTEGER PRIMARY KEY CHECK (only = 1), hex TEXT NOT NULL) STRICT;
INSERT INTO "seed" VALUES(1,'3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c');
CREATE TABLE shortfall (place INTEGER PRIMARY KEY, sentence TEXT NOT NULL) STRICT;
INSERT INTO "shortfall" VALUES(0,'There is one form: all neighbours have form A.');
