-- A register of version 5: the one in version-4.sql as the program of version 5 took it to its tables,
-- with the entry of that act; digests worked out after FORMAT.md by another program.
-- Rows stand here before those they point to.
PRAGMA foreign_keys = OFF;
PRAGMA application_id = 1986096177;
PRAGMA user_version = 5;
CREATE TABLE act (place INTEGER PRIMARY KEY, what TEXT NOT NULL) STRICT;
CREATE TABLE amendment (
    place INTEGER PRIMARY KEY,
    name TEXT NOT NULL,
    digest TEXT NOT NULL,
    content TEXT NOT NULL
) STRICT;
INSERT INTO "amendment" VALUES(1,'roster.csv','87307fb0a94e4677b9885a583956df3cf38ab2bbab043eddcd382c5187cae299','candidate,name,service,note
S-1,Ilse Vandermoor,room,
S-2,Tomás Quirrel,room,
S-3,Aiko Brandt,kit,posted twice
');
CREATE TABLE answer (
    candidate TEXT NOT NULL REFERENCES candidate (number),
    item TEXT NOT NULL,
    answer TEXT NOT NULL,
    source TEXT NOT NULL,
    line INTEGER NOT NULL, second_line INTEGER,
    PRIMARY KEY (candidate, item)
) STRICT, WITHOUT ROWID;
INSERT INTO "answer" VALUES('S-1','theory 1','B','answers.csv',2,NULL);
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
    counts INTEGER NOT NULL, drawn TEXT NOT NULL DEFAULT '',
    PRIMARY KEY (form_place, number)
) STRICT;
INSERT INTO "form_question" VALUES('A',0,1,'eu-rum-strength','0 1 2',1,'');
INSERT INTO "form_question" VALUES('A',0,2,'raw-material-match','3 0 2 1',1,'');
INSERT INTO "form_question" VALUES('A',0,3,'spirit-to-water','',1,'');
INSERT INTO "form_question" VALUES('A',0,4,'word-for-feints','',1,'');
INSERT INTO "form_question" VALUES('A',0,5,'batch-order','2 0 3 1',1,'');
INSERT INTO "form_question" VALUES('A',0,6,'still-fractions','0 1 2',1,'');
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
INSERT INTO "input" VALUES(0,'plan.yaml','2a46dcf6f0401b492db9af58be63e9e642b8b21da3d2e638081253dd68a71c1b','title: Small exam for golden papers
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
INSERT INTO "input" VALUES(1,'room.yaml','4e73f3126b281ac487c1e14c65315c6133c326ed52ad0929fa305f5be9800b6e','room: Small room
tables:
  - { id: a, seats: 3 }
');
INSERT INTO "input" VALUES(2,'roster.csv','097a90c5e573114b63b561c360dcf0cb89f9419c3fda162bbc65b6f5db9a0374','candidate,name,service,note
S-1,Ilse Vandermoor,room,
S-2,Tomás Quirrel,room,
S-3,Aiko Brandt,kit,posted
');
CREATE TABLE ledger (number INTEGER PRIMARY KEY, entry TEXT NOT NULL) STRICT;
INSERT INTO "ledger" VALUES(0,'{"act":"assembled","after":{"act":"f3083b6179e668da282fbcda4a8913d8511560c4f7fe2a36f813d20cc89abce8","amendment":"2843ca83bf70247ddd1049c0c98347087ae0261e1962fae05e26497ca65f9cc9","answer":"eeaac5686bcd2f6dd6f2a2044b163c841a18c3977b16cbdd0480949ce16ee2d4","candidate":"b262a2f53cb060b884e84ea893df41bdc93007a62f56dc095e0d85fec77f9737","form_question":"f97e55fa271e47cdda0b2560d54f747fd626f996dfc28d1891d912e08151d12c","glass":"b34d9a707bd741243dca36c9f7b086f1f3bb2aa4953bfaba54e6ce43dccda59d","input":"e91af0a3c9f1d4d3c9850f9e3d552d83447dfeca0595b22e4a60c7fd746093ba","mark":"66c1e0115d2c073eb2f28d66a51c77a65cb246a9a27c85d985db37153664e0e5","seal":"665ac46c58cb8dc11717db5aedc149a8fd4b0d5a4ee77ba223d5bccb2ae3cfaf","seed":"e2a82ad90f4b28bc28a446143a229117b8f99083c59e7f276d7f18bea84055c2","shortfall":"08444bc19c1d3e4f2a373ec9310e22a2243e48bdd9beee0eeac1fba39d609005"},"before":{},"details":{"candidates":"3","forms":"1"},"number":0,"previous":"0000000000000000000000000000000000000000000000000000000000000000","role":"assembler","time":"2031-03-01T09:30:00Z"}');
INSERT INTO "ledger" VALUES(1,'{"act":"marked","after":{"answer":"febe64c1784a313c06283e2e0290bcf3dfc796ef598d900049ec0fc9542ee604","mark":"66c1e0115d2c073eb2f28d66a51c77a65cb246a9a27c85d985db37153664e0e5"},"before":{"answer":"eeaac5686bcd2f6dd6f2a2044b163c841a18c3977b16cbdd0480949ce16ee2d4","mark":"66c1e0115d2c073eb2f28d66a51c77a65cb246a9a27c85d985db37153664e0e5"},"details":{"answers":"1"},"number":1,"previous":"96de14f4ac23dfca9a4a2434f5d1c3a16f8165f9baf4ea78780d50a8a534611b","role":"marker","time":"2031-03-15T10:00:00Z"}');
INSERT INTO "ledger" VALUES(2,'{"act":"corrected","after":{"amendment":"905a3499e599f52502ca3fbab19720bf0a30ea00d8ad272f7a23bfb2cc430801","mark":"66c1e0115d2c073eb2f28d66a51c77a65cb246a9a27c85d985db37153664e0e5"},"before":{"amendment":"2843ca83bf70247ddd1049c0c98347087ae0261e1962fae05e26497ca65f9cc9","mark":"66c1e0115d2c073eb2f28d66a51c77a65cb246a9a27c85d985db37153664e0e5"},"confirmed_by":"marker","details":{"decisions":"","marks":"","texts":"roster.csv","why":"the kit was posted twice"},"number":2,"previous":"b84c77dd74e66a96a50c1ed1a1d7c8fe220f051421fda396ca4602aaf71d7e21","role":"chief-examiner","time":"2031-03-20T10:00:00Z"}');
INSERT INTO "ledger" VALUES(3,'{"act":"migrated","after":{"act":"f3083b6179e668da282fbcda4a8913d8511560c4f7fe2a36f813d20cc89abce8","amendment":"905a3499e599f52502ca3fbab19720bf0a30ea00d8ad272f7a23bfb2cc430801","answer":"0cb906b9681ca11cd6ffa7e15c1853614feb2f3d78796a2036e23ddbcc07c647","candidate":"b262a2f53cb060b884e84ea893df41bdc93007a62f56dc095e0d85fec77f9737","form_question":"f97e55fa271e47cdda0b2560d54f747fd626f996dfc28d1891d912e08151d12c","glass":"b34d9a707bd741243dca36c9f7b086f1f3bb2aa4953bfaba54e6ce43dccda59d","input":"e91af0a3c9f1d4d3c9850f9e3d552d83447dfeca0595b22e4a60c7fd746093ba","mark":"66c1e0115d2c073eb2f28d66a51c77a65cb246a9a27c85d985db37153664e0e5","seal":"665ac46c58cb8dc11717db5aedc149a8fd4b0d5a4ee77ba223d5bccb2ae3cfaf","seed":"e2a82ad90f4b28bc28a446143a229117b8f99083c59e7f276d7f18bea84055c2","shortfall":"08444bc19c1d3e4f2a373ec9310e22a2243e48bdd9beee0eeac1fba39d609005"},"before":{"act":"f3083b6179e668da282fbcda4a8913d8511560c4f7fe2a36f813d20cc89abce8","amendment":"905a3499e599f52502ca3fbab19720bf0a30ea00d8ad272f7a23bfb2cc430801","answer":"febe64c1784a313c06283e2e0290bcf3dfc796ef598d900049ec0fc9542ee604","candidate":"b262a2f53cb060b884e84ea893df41bdc93007a62f56dc095e0d85fec77f9737","form_question":"f97e55fa271e47cdda0b2560d54f747fd626f996dfc28d1891d912e08151d12c","glass":"b34d9a707bd741243dca36c9f7b086f1f3bb2aa4953bfaba54e6ce43dccda59d","input":"e91af0a3c9f1d4d3c9850f9e3d552d83447dfeca0595b22e4a60c7fd746093ba","mark":"66c1e0115d2c073eb2f28d66a51c77a65cb246a9a27c85d985db37153664e0e5","seal":"665ac46c58cb8dc11717db5aedc149a8fd4b0d5a4ee77ba223d5bccb2ae3cfaf","seed":"e2a82ad90f4b28bc28a446143a229117b8f99083c59e7f276d7f18bea84055c2","shortfall":"08444bc19c1d3e4f2a373ec9310e22a2243e48bdd9beee0eeac1fba39d609005"},"details":{"from":"4","to":"5"},"number":3,"previous":"e632926766a91e6e3375865e0336add2c4391e7449883e60b01bc3da57776acc","role":"assembler","time":null}');
CREATE TABLE ledger_head (
    only INTEGER PRIMARY KEY CHECK (only = 1),
    size INTEGER NOT NULL,
    parts TEXT NOT NULL
) STRICT;
INSERT INTO "ledger_head" VALUES(1,4,'606940972451ad6e8c9f29c4b8c14dbb621e70c9d1fcdc14ca137c155647a6f3');
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
CREATE TABLE seal (only INTEGER PRIMARY KEY CHECK (only = 1), size INTEGER NOT NULL, root TEXT NOT NULL) STRICT;
CREATE TABLE seed (only INTEGER PRIMARY KEY CHECK (only = 1), hex TEXT NOT NULL) STRICT;
INSERT INTO "seed" VALUES(1,'3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c3c');
CREATE TABLE shortfall (place INTEGER PRIMARY KEY, sentence TEXT NOT NULL) STRICT;
INSERT INTO "shortfall" VALUES(0,'There is one form: all neighbours have form A.');
CREATE TRIGGER ledger_is_never_changed BEFORE UPDATE ON ledger
BEGIN SELECT RAISE(ABORT, 'the ledger is only added to'); END;
CREATE TRIGGER ledger_is_never_cut BEFORE DELETE ON ledger
BEGIN SELECT RAISE(ABORT, 'the ledger is only added to'); END;
