//! A draw that was announced before its public value was known is made from both, and that is shown.

use register::{Act, Entry, Register};
use tests::Room;

const WHICH: &str = "the three sources of section 6 of RFC 3797";
/// The example of RFC 3797, section 6, in another order, and its text in canonical form.
const VALUE: &str = "9319 / 8, 2, 12, 5, 10 / 9 18 26 34 41 45";
const TEXT: &str = "9319./2.5.8.10.12./9.18.26.34.41.45./";

fn announced() -> Room {
    let room = Room::empty();
    tests::copy(
        &tests::top().join("tests/papers/small-exam"),
        &room.path("exam"),
    );
    room.run(&["assemble", "exam", "--announce", WHICH])
        .exits(0)
        .gives("Commitment:")
        .says("keep draw-secret.txt to yourself");
    room
}

/// HKDF and the commitment by Python's own library, after FORMAT.md, from the file that was published
/// and the texts in the register: the seed and the commitment's hash.
fn by_another(room: &Room) -> (String, String) {
    let script = "
import hashlib, hmac, json, sqlite3, sys
secret, text = bytes.fromhex(open('exam/draw-secret.txt').read().strip()), sys.argv[1].encode()
key = hmac.new(text, secret, hashlib.sha256).digest()
print(hmac.new(key, b'valinch exam seed 1' + bytes([1]), hashlib.sha256).hexdigest())
def bind(domain, holds):
    holds = json.dumps(holds, sort_keys=True, separators=(',', ':'), ensure_ascii=False).encode()
    fields = [domain, secret, holds]
    return hashlib.sha256(b''.join(len(f).to_bytes(8, 'big') + f for f in fields)).hexdigest()
rows = sqlite3.connect('exam/sitting.register').execute('SELECT name, content FROM input')
texts = {name: hashlib.sha256(content.encode()).hexdigest() for name, content in rows}
said = json.load(open('exam/draw-announced.json'))
bound = bind(b'valinch announced texts 1', texts)
print(bind(b'valinch announcement 1', {'texts': bound, 'time': said['time'], 'which': sys.argv[2]}))
";
    let output = std::process::Command::new("python3")
        .args(["-c", script, TEXT, WHICH])
        .current_dir(room.path(""))
        .output()
        .unwrap();
    assert!(output.status.success(), "{output:?}");
    let text = String::from_utf8(output.stdout).unwrap();
    let (seed, commitment) = text.trim().split_once('\n').unwrap();
    (seed.to_owned(), commitment.to_owned())
}

#[test]
fn an_announced_draw_is_made_from_secret_and_value_together() {
    let room = announced();
    room.run(&["assemble", "exam", "--announce", WHICH])
        .exits(3)
        .says("announced already");
    room.run(&["assemble", "exam"])
        .exits(3)
        .says("no public value is given");
    room.run(&["assemble", "exam", "--seed", &"5a".repeat(32)])
        .exits(3)
        .says("no public value is given");
    room.run(&["assemble", "exam", "--public-value", "twelve"])
        .exits(3)
        .says("is no public value");
    assert!(!room.path("exam/sitting.register").exists());
    let draw = ["assemble", "exam", "--public-value", VALUE];
    room.run(&draw).exits(0).gives(&format!("Value:   {TEXT}"));
    let secret = room.text("exam/draw-secret.txt").trim().to_owned();
    let (seed, commitment) = by_another(&room);
    let register = Register::open(&room.path("exam/sitting.register")).unwrap();
    assert_eq!(*register.seed().unwrap().to_hex(), seed);
    let entries: Vec<Entry> = register
        .ledger()
        .unwrap()
        .iter()
        .map(|text| Entry::read(text).unwrap())
        .collect();
    // Nothing of the secret stands in the ledger, nor in what is published.
    assert!(
        !register
            .ledger()
            .unwrap()
            .iter()
            .any(|text| text.contains(&secret) || text.contains(&seed))
    );
    assert!(!room.text("exam/draw-announced.json").contains(&secret));
    drop(register);
    assert_eq!(entries[1].act, Act::PublicValueMixed);
    let details = &entries[1].details;
    assert_eq!((&*details["value"], &*details["which"]), (TEXT, WHICH));
    let told = register::hex::digest_from_words(&details["commitment"]).unwrap();
    assert_eq!(register::hex::to_hex(&told), commitment);
    assert!(
        room.text("exam/draw-announced.json")
            .contains(&details["commitment"])
    );
    // The same again changes nothing; another value is another draw.
    room.run(&draw).exits(0).says("nothing was changed");
    room.run(&["assemble", "exam", "--public-value", "1"])
        .exits(3)
        .says("from another seed");
    // Anybody sees that it was kept, and where the secret is another that it was not.
    room.run(&["verify", "exam"])
        .exits(0)
        .gives(&details["commitment"])
        .gives("to be compared with the published one");
    // So is a register that was named alone, as far as what it needs is there.
    room.run(&["verify", "exam/sitting.register"]).exits(0);
    std::fs::copy(
        room.path("exam/sitting.register"),
        room.path("kept.register"),
    )
    .unwrap();
    room.run(&["verify", "kept.register"])
        .exits(0)
        .gives("was not looked at");
    // The words in the file are not those that stand in the ledger.
    room.replace("exam/draw-announced.json", "three sources", "best sources");
    room.run(&["verify", "exam"])
        .exits(4)
        .gives("is not the announcement");
    room.replace("exam/draw-announced.json", "best sources", "three sources");
    room.put("exam/draw-secret.txt", "no secret");
    room.run(&["verify", "exam"])
        .exits(4)
        .gives("holds no secret");
    room.put("exam/draw-secret.txt", "5a".repeat(32));
    room.run(&["verify", "exam"])
        .exits(4)
        .gives("not the secret that was announced")
        .gives("was not drawn from");
    std::fs::remove_file(room.path("exam/draw-secret.txt")).unwrap();
    room.run(&["verify", "exam"]).exits(4).gives("is gone");
}

#[test]
fn what_was_announced_cannot_be_changed_afterwards() {
    let room = announced();
    #[cfg(unix)]
    {
        use std::os::unix::fs::PermissionsExt;
        let about = std::fs::metadata(room.path("exam/draw-secret.txt")).unwrap();
        assert_eq!(about.permissions().mode() & 0o777, 0o600);
    }
    room.replace("exam/draw-announced.json", "three sources", "best sources");
    room.run(&["assemble", "exam", "--public-value", VALUE])
        .exits(3)
        .says("do not belong together");
    let other = Room::empty();
    tests::copy(
        &tests::top().join("tests/papers/small-exam"),
        &other.path("exam"),
    );
    other
        .run(&["assemble", "exam", "--public-value", VALUE])
        .exits(3)
        .says("no draw of this exam was announced");
    other
        .run(&["assemble", "exam", "--announce", " "])
        .exits(3)
        .says("which public value");
    other.run(&["assemble", "exam"]).exits(0);
    other
        .run(&["assemble", "exam", "--announce", WHICH])
        .exits(3)
        .says("assembled already");
    // An announcement that was not there at the draw is told.
    other.put(
        "exam/draw-announced.json",
        room.text("exam/draw-announced.json"),
    );
    other
        .run(&["verify", "exam"])
        .exits(4)
        .gives("drawn without a public value");
}

#[test]
fn who_knows_the_value_can_change_neither_texts_nor_secret_nor_clock() {
    let room = announced();
    let draw = ["assemble", "exam", "--public-value", VALUE];
    let plan = room.text("exam/plan.yaml");
    room.put("exam/plan.yaml", format!("{plan}# one more try\n"));
    room.run(&draw).exits(3).says("changed since the draw");
    room.put("exam/plan.yaml", &plan);
    let published = room.text("exam/draw-announced.json");
    let said: serde_json::Value = serde_json::from_str(&published).unwrap();
    let time = said["time"].as_str().unwrap();
    // A time that was put back afterwards is not the announced one.
    room.replace("exam/draw-announced.json", time, "2001-01-01T00:00:00Z");
    room.run(&draw).exits(3).says("do not belong together");
    room.put("exam/draw-announced.json", &published);
    let kept = "exam/draw-secret.txt";
    let secret = room.text(kept);
    room.put(kept, "5a".repeat(32));
    room.run(&draw).exits(3).says("do not belong together");
    room.put(kept, "no secret");
    room.run(&draw).exits(3).says("holds no secret");
    room.put(kept, &secret);
    // Nor is anything drawn before it was announced.
    room.run_with(&draw, "", &[("SOURCE_DATE_EPOCH", "1000000000")])
        .exits(3)
        .says("the clock shows 2001-09-09");
    // Without its announcement a secret draws nothing, and no draw goes around it.
    std::fs::remove_file(room.path("exam/draw-announced.json")).unwrap();
    room.run(&draw).exits(3).says("is missing");
    room.run(&["assemble", "exam"])
        .exits(3)
        .says("is announced");
    room.run(&["assemble", "exam", "--announce", WHICH])
        .exits(3)
        .says("announced already");
    assert!(!room.path("exam/sitting.register").exists());
    room.put("exam/draw-announced.json", &published);
    room.run(&draw).exits(0);
    room.run(&["verify", "exam"]).exits(0);
}
