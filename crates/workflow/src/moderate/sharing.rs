//! Who marks what: the scripts of a sitting's candidates shared out, with those of known marks mixed
//! in.

use std::collections::BTreeMap;
use std::path::Path;

use base::{Fault, Marks, QuestionId};
use grader::Award;
use grader::printed_letters::is_blank;
use grader::script_sharing::{
    CannotShare, Essay, SharedScript, codes_of_known, list_of, share_out,
};

use super::known_marks::{KNOWN_MARKS, Rubric, read_known};
use super::{essays, rubric_of};
use crate::failure::Failure;
use crate::open_sitting::DrawnSitting;
use crate::surroundings::Surroundings;
use crate::texts::{Sources, read_text};

/// Everything that is shared out.
pub(super) struct Sharing {
    /// Essays of candidates, then those whose marks are known.
    pub(super) essays: Vec<Essay>,
    /// The scripts of candidates.
    pub(super) scripts: Vec<SharedScript>,
    /// Those whose marks are known, with their marks; all markers mark them.
    pub(super) known: Vec<(SharedScript, Marks)>,
    /// For each marker the scripts in the order of the table.
    lists: Vec<Vec<SharedScript>>,
    /// Scripts that were kept from a marker who teaches their writer.
    pub(super) kept_from_teachers: usize,
}

impl Sharing {
    /// The scripts of a marker in the order of the table; answered ones only.
    pub(super) fn list(&self, marker: usize) -> Vec<&SharedScript> {
        self.lists.get(marker).into_iter().flatten().collect()
    }
    /// All that can stand in a marker's table, answered or not, in no order.
    pub(super) fn all_of(&self, marker: usize) -> Vec<&SharedScript> {
        let own = self.scripts.iter();
        let own = own.filter(|script| script.markers.contains(&marker));
        own.chain(self.known.iter().map(|(script, _)| script))
            .collect()
    }
}

/// Shares a sitting's essays out to these markers. Faults of the table of known marks go to `faults`.
pub(super) fn sharing(
    around: &dyn Surroundings,
    folder: &Path,
    drawn: &DrawnSitting,
    awards: &[Award],
    markers: &[String],
    (faults, sources): (&mut Vec<Fault>, &mut Sources),
) -> Result<Result<Sharing, CannotShare>, Failure> {
    let mut all = essays(drawn, awards);
    let rubrics: BTreeMap<QuestionId, Rubric> = all
        .iter()
        .map(|essay| (essay.question.clone(), rubric_of(drawn, essay)))
        .collect();
    let path = folder.join(KNOWN_MARKS);
    let mut known = Vec::new();
    if around.has_file(&path)
        && let Some(source) = read_text(around, &path, faults)?
    {
        known = read_known(&source, &rubrics, faults);
        sources.insert(source.name, source.text);
    }
    let roster = &drawn.exam.roster.candidates;
    let teachers: BTreeMap<&str, &[String]> = roster
        .iter()
        .map(|candidate| (candidate.number.as_str(), candidate.teachers.as_slice()))
        .collect();
    let teaches = |marker: &str, candidate: &base::CandidateNumber| {
        let names = teachers.get(candidate.as_str()).copied().unwrap_or(&[]);
        names.iter().any(|name| name.eq_ignore_ascii_case(marker))
    };
    let scripts = match share_out(&all, markers, &teaches, &drawn.seed) {
        Ok(scripts) => scripts,
        Err(why) => return Ok(Err(why)),
    };
    let kept_from_teachers = all
        .iter()
        .filter(|essay| {
            let mut names = markers.iter();
            names.any(|name| {
                essay
                    .candidate
                    .as_ref()
                    .is_some_and(|who| teaches(name, who))
            })
        })
        .count();
    let codes = codes_of_known(&scripts, known.len(), &drawn.seed);
    let first = all.len();
    let known: Vec<(SharedScript, Marks)> = codes
        .into_iter()
        .zip(known)
        .enumerate()
        .map(|(place, (code, known))| {
            all.push(known.essay);
            let script = SharedScript {
                code,
                essay: first + place,
                // No pair: every marker has it.
                markers: [usize::MAX; 2],
            };
            (script, known.marks)
        })
        .collect();
    let answered = |script: &&SharedScript| {
        let essay = all.get(script.essay);
        essay.is_some_and(|essay| !is_blank(&essay.answer))
    };
    let question_of =
        |script: &SharedScript| all.get(script.essay).map(|essay| essay.question.clone());
    let mixed: Vec<&SharedScript> = known.iter().map(|(script, _)| script).collect();
    let lists = (0..markers.len())
        .map(|marker| {
            let own = scripts
                .iter()
                .filter(|script| script.markers.contains(&marker));
            let own: Vec<&SharedScript> = own.filter(answered).collect();
            let list = list_of(&own, &mixed, &question_of, marker, &drawn.seed);
            list.into_iter().cloned().collect()
        })
        .collect();
    Ok(Ok(Sharing {
        essays: all,
        scripts,
        known,
        lists,
        kept_from_teachers,
    }))
}
