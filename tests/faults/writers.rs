//! Many writers at once: each waits its turn or is told, and what was acknowledged is there.

use register::{Register, RegisterError};

use crate::made;

#[test]
fn thirty_two_writers_at_once_lose_nothing() {
    const WRITERS: u64 = 32;
    const EACH: u64 = 8;
    let folder = tempfile::tempdir().unwrap();
    let path = made::register(folder.path(), 1);
    let acknowledged: Vec<u64> = std::thread::scope(|scope| {
        let writers: Vec<_> = (0..WRITERS)
            .map(|writer| {
                let path = &path;
                scope.spawn(move || {
                    let mut kept = Vec::new();
                    for turn in 0..EACH {
                        let number = writer * 100 + turn;
                        let done = Register::open(path)
                            .and_then(|mut register| made::note(&mut register, number));
                        match done {
                            Ok(()) => kept.push(number),
                            Err(RegisterError::Busy(_)) => {}
                            Err(other) => panic!("{other}"),
                        }
                    }
                    kept
                })
            })
            .collect();
        writers
            .into_iter()
            .flat_map(|writer| writer.join().unwrap())
            .collect()
    });
    let found = Register::verify(&path, None).unwrap();
    assert_eq!(found.faults, []);
    let texts = Register::ledger_of(&path).unwrap();
    let lost = acknowledged
        .iter()
        .filter(|number| {
            !texts
                .iter()
                .any(|text| text.contains(&format!("\"number {number}\"")))
        })
        .count();
    println!(
        "{WRITERS} writers: {} acts acknowledged, {} told to wait, {lost} lost",
        acknowledged.len(),
        WRITERS * EACH - acknowledged.len() as u64
    );
    assert_eq!(lost, 0);
    assert_eq!(
        texts.len(),
        acknowledged.len() + 1,
        "nothing is there that was not acknowledged"
    );
}

#[test]
fn readers_read_while_one_writes() {
    let folder = tempfile::tempdir().unwrap();
    let path = made::register(folder.path(), 2);
    let mut writer = Register::open(&path).unwrap();
    let reader = Register::open(&path).unwrap();
    made::note(&mut writer, 7).unwrap();
    assert_eq!(reader.ledger().unwrap().len(), 3);
    assert_eq!(Register::verify(&path, None).unwrap().faults, []);
}
