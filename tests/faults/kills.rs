//! The program is killed at random moments of marking and assembling: what was acknowledged stays,
//! what was not finished left nothing.

use std::process::{Command, Stdio};
use std::time::{Duration, Instant};

use register::Register;
use tests::Room;

use crate::made;

const EXAM: &str = "examples/certificate";

/// The seed from which the recorded answers of the example were written.
const SEED: &str = "6f1d2c3b4a59687706152433425160fedcba98765432100123456789abcdef00";

fn kills() -> u64 {
    let told = std::env::var("VALINCH_KILLS").ok();
    told.and_then(|text| text.parse().ok()).unwrap_or(24)
}

/// Runs the program and kills it after some time; whether it had ended well before.
fn killed(room: &Room, arguments: &[&str], after: Duration) -> bool {
    let mut child = Command::new(tests::program())
        .args(arguments)
        .current_dir(room.path(""))
        .stdin(Stdio::null())
        .stdout(Stdio::null())
        .stderr(Stdio::null())
        .spawn()
        .unwrap();
    std::thread::sleep(after);
    // On Unix this is kill -9. A program that has ended is not there to be killed.
    let _ = child.kill();
    let status = child.wait().unwrap();
    matches!(status.code(), Some(0 | 1))
}

/// How long an undisturbed run takes: the shortest of some, since a busy machine makes others longer.
fn takes(mut once: impl FnMut() -> i32) -> Duration {
    let run = |_| {
        let begun = Instant::now();
        let code = once();
        assert!(code == 0 || code == 1, "{code}");
        begun.elapsed()
    };
    (0..4).map(run).min().unwrap_or_default()
}

/// Takes the register away.
fn without_register(room: &Room) {
    for ending in ["", "-wal", "-shm"] {
        let _ = std::fs::remove_file(room.path(EXAM).join(format!("sitting.register{ending}")));
    }
}

#[test]
fn killed_at_any_moment_nothing_is_lost() {
    let room = Room::with_example("certificate");
    let path = room.path(EXAM).join("sitting.register");
    let assemble = ["assemble", EXAM, "--seed", SEED];
    let whole = takes(|| {
        without_register(&room);
        room.run(&assemble).code
    });
    let mark = ["mark", EXAM];
    let marking = takes(|| room.run(&mark).code);
    let marks = Register::open(&path).unwrap().marks().unwrap();
    assert!(!marks.is_empty());

    // A kill that comes when the program has ended counts for nothing: as many must strike as are told.
    let wanted = kills() / 2;
    let mut struck = 0;
    let (mut lost, mut undetected, mut finished, mut entered) = (0, 0, 0, 0);
    let mut numbers = made::numbers(0);
    let mut moment = |of: Duration| of.mul_f64(numbers.below(1_100) as f64 / 1_000.0);
    while struck < wanted {
        let before = Register::ledger_of(&path).unwrap().len();
        let done = killed(&room, &mark, moment(marking));
        let found = Register::verify(&path, None).unwrap();
        undetected += u64::from(!found.faults.is_empty());
        let register = Register::open(&path).unwrap();
        let after = register.ledger().unwrap().len();
        lost += u64::from(register.marks().unwrap() != marks);
        lost += u64::from(done && after == before);
        lost += u64::from(after < before);
        finished += u64::from(done);
        struck += u64::from(!done);
        entered += u64::from(after > before);
    }
    let fresh = Room::with_example("certificate");
    let path = fresh.path(EXAM).join("sitting.register");
    while struck < 2 * wanted {
        without_register(&fresh);
        let done = killed(&fresh, &assemble, moment(whole));
        lost += u64::from(done && !path.exists());
        if path.exists() {
            let found = Register::verify(&path, None).unwrap();
            undetected += u64::from(!found.faults.is_empty());
            entered += 1;
        }
        finished += u64::from(done);
        struck += u64::from(!done);
        // Whatever was left does not hinder the next attempt.
        fresh.run(&assemble).exits(0);
    }
    println!(
        "{struck} kills struck, {finished} more came too late; {entered} acts entered, {lost} lost, {undetected} undetected"
    );
    assert_eq!((lost, undetected), (0, 0));
}
