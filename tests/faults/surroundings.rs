//! The world fails at the n-th thing that a use case asks of it, for every n: a file that cannot be read
//! or written, a folder that cannot be listed, no random numbers. The register is either as before the act
//! or as after it, and the same act goes through when the world is well.

use std::cell::Cell;
use std::io::Read;
use std::path::{Path, PathBuf};

use base::ExamSeed;
use register::Register;
use tests::Room;
use workflow::{
    AssembleRequest, Disk, ExportRequest, Failure, MarkRequest, Moment, PersonRequest,
    ResultsRequest, RetentionRequest, Role, Stated, Surroundings,
};

/// The machine, until so many things were asked of it.
struct Failing {
    disk: Disk,
    left: Cell<u32>,
}

impl Failing {
    /// Counts a call, and fails it when it is the one.
    fn asked<T>(
        &self,
        path: &Path,
        does: impl FnOnce(&Disk) -> Result<T, Failure>,
    ) -> Result<T, Failure> {
        let left = self.left.get();
        self.left.set(left.saturating_sub(1));
        if left == 1 {
            return Err(Failure::CannotWrite {
                path: path.to_owned(),
                why: "the world failed".to_owned(),
            });
        }
        does(&self.disk)
    }
}

impl Surroundings for Failing {
    fn read(&self, path: &Path) -> Result<Vec<u8>, Failure> {
        self.asked(path, |disk| disk.read(path))
    }
    fn open(&self, path: &Path) -> Result<Box<dyn Read>, Failure> {
        self.asked(path, |disk| disk.open(path))
    }
    fn has_file(&self, path: &Path) -> bool {
        self.disk.has_file(path)
    }
    fn files_in(&self, folder: &Path) -> Result<Vec<String>, Failure> {
        self.asked(folder, |disk| disk.files_in(folder))
    }
    fn write(&self, path: &Path, bytes: &[u8]) -> Result<(), Failure> {
        self.asked(path, |disk| disk.write(path, bytes))
    }
    fn write_secret(&self, path: &Path, bytes: &[u8]) -> Result<(), Failure> {
        self.asked(path, |disk| disk.write_secret(path, bytes))
    }
    fn remove(&self, path: &Path) -> Result<(), Failure> {
        self.asked(path, |disk| disk.remove(path))
    }
    fn begin_folder(&self, folder: &Path, mark: &str) -> Result<PathBuf, Failure> {
        self.asked(folder, |disk| disk.begin_folder(folder, mark))
    }
    fn finish_folder(&self, grown: &Path, folder: &Path) -> Result<(), Failure> {
        self.asked(folder, |disk| disk.finish_folder(grown, folder))
    }
    fn give_up_folder(&self, grown: &Path) {
        self.disk.give_up_folder(grown);
    }
    fn fresh_seed(&self) -> Result<ExamSeed, Failure> {
        self.asked(Path::new("random numbers"), |disk| disk.fresh_seed())
    }
    fn now(&self) -> Option<Moment> {
        // Long after the day of the exam and the time for which its names are kept.
        Moment::parse("2035-06-12T09:30:00Z")
    }
}

fn two() -> Stated {
    Stated {
        role: None,
        confirmed_by: Some(Role::Assembler),
    }
}

type Act = fn(&dyn Surroundings, PathBuf) -> Result<(), Failure>;

fn person(folder: &Path) -> PersonRequest {
    PersonRequest {
        folder: folder.to_owned(),
        number: "S-2".to_owned(),
        stated: two(),
        ..PersonRequest::default()
    }
}

/// The acts in their order; each needs those before it.
const ACTS: [(&str, Act); 7] = [
    ("assemble", |around, folder| {
        let request = AssembleRequest {
            folder,
            seed: Some(ExamSeed::from_bytes([60; 32])),
            public_value: None,
            passphrase: None,
            page: None,
            stated: Stated::default(),
        };
        workflow::assemble(around, &request).map(|_| ())
    }),
    ("mark", |around, folder| {
        let request = MarkRequest {
            folder,
            answers: Vec::new(),
            decisions: Vec::new(),
            stated: Stated::default(),
        };
        workflow::mark(around, &request).map(|_| ())
    }),
    ("results", |around, folder| {
        let request = ResultsRequest {
            folder,
            ..ResultsRequest::default()
        };
        workflow::give_results(around, &request).map(|_| ())
    }),
    ("release", |around, folder| {
        let request = ResultsRequest {
            folder,
            stated: two(),
            ..ResultsRequest::default()
        };
        workflow::release(around, &request).map(|_| ())
    }),
    ("export", |around, folder| {
        let request = ExportRequest {
            person: person(&folder),
            to: folder.join("s-2.json"),
        };
        workflow::export_person(around, &request).map(|_| ())
    }),
    ("erase", |around, folder| {
        workflow::erase_person(around, &person(&folder)).map(|_| ())
    }),
    ("retention", |around, folder| {
        let request = RetentionRequest {
            folder,
            ..RetentionRequest::default()
        };
        workflow::end_retention(around, &request).map(|_| ())
    }),
];

fn well() -> Failing {
    Failing {
        disk: Disk,
        left: Cell::new(0),
    }
}

fn entries(folder: &Path) -> usize {
    let path = folder.join("sitting.register");
    if !path.exists() {
        return 0;
    }
    assert_eq!(Register::verify(&path, None).unwrap().faults, []);
    Register::ledger_of(&path).unwrap().len()
}

#[test]
fn whatever_fails_first_nothing_is_lost() {
    let before = Room::empty();
    tests::copy(
        &tests::top().join("tests/papers/small-exam"),
        &before.path("exam"),
    );
    let plan = before.text("exam/plan.yaml");
    before.put(
        "exam/plan.yaml",
        format!("{plan}retention: {{ months: 24 }}\n"),
    );
    before.put(
        "exam/answers/answers.csv",
        "candidate,part,question,answer\nS-1,theory,1,B\nS-2,theory,1,A\n",
    );
    let (mut tried, mut lost, mut undetected) = (0, 0, 0);
    for (name, act) in ACTS {
        let was = entries(&before.path("exam"));
        for number in 1.. {
            let room = Room::empty();
            for (name, bytes) in before.files("exam") {
                room.put(&format!("exam/{name}"), bytes);
            }
            let folder = room.path("exam");
            let failing = Failing {
                disk: Disk,
                left: Cell::new(number),
            };
            let done = act(&failing, folder.clone());
            if failing.left.get() > 0 {
                // So many things are not asked: each was made to fail.
                assert!(done.is_ok(), "{name}: {done:?}");
                break;
            }
            tried += 1;
            // An act that fell silent about a failure would be one that nobody hears of.
            if done.is_ok() && entries(&folder) == was {
                println!("{name}, call {number}: done, and not entered");
                undetected += 1;
            }
            let now = entries(&folder);
            lost += u32::from(now < was);
            let again = act(&well(), folder.clone());
            let once = matches!(again, Err(Failure::Refused { .. })) && now > was;
            if !(again.is_ok() || once) {
                println!("{name}, call {number}: afterwards {again:?}");
                lost += 1;
            }
            lost += u32::from(entries(&folder) < now);
        }
        act(&well(), before.path("exam")).unwrap();
    }
    println!("a failing world: {tried} calls failed; lost {lost}, undetected {undetected}");
    assert_eq!((lost, undetected), (0, 0));
    assert!(tried > 40, "{tried}");
}
