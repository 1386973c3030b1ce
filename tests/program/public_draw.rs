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

/// HKDF and the commitment by Python's own library, after FORMAT.md: the seed and the commitment's hash.
fn by_another(secret: &str) -> (String, String) {
    let script = "
import hashlib, hmac, sys
secret, text, which = bytes.fromhex(sys.argv[1]), sys.argv[2].encode(), sys.argv[3].encode()
key = hmac.new(text, secret, hashlib.sha256).digest()
print(hmac.new(key, b'valinch exam seed 1' + bytes([1]), hashlib.sha256).hexdigest())
fields = [b'valinch announcement 1', secret, which]
print(hashlib.sha256(b''.join(len(f).to_bytes(8, 'big') + f for f in fields)).hexdigest())
";
    let output = std::process::Command::new("python3")
        .args(["-c", script, secret, TEXT, WHICH])
        .output()
        .unwrap();
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
    room.run(&draw).exits(0);
    let secret = room.text("exam/draw-secret.txt").trim().to_owned();
    let (seed, commitment) = by_another(&secret);
    let register = Register::open(&room.path("exam/sitting.register")).unwrap();
    assert_eq!(register.seed().unwrap().to_hex(), seed);
    let entries: Vec<Entry> = register
        .ledger()
        .unwrap()
        .iter()
        .map(|text| Entry::read(text).unwrap())
        .collect();
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
    room.run(&["verify", "exam"]).exits(0);
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
}
