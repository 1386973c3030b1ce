//! Help after a fail, and what to taste next: plain rules, no guesses about the person.
//!
//! Source: common practice, no source. Suggestions, at most three, in this order: the group of
//! words whose panel weight was missed most; the category, then the region or age, that earned
//! least, where it earned less than half. Ties go to what comes first.

use std::collections::BTreeMap;

use base::{CellId, Marks};
use exam_plan::{Asked, Exam};
use grader::{Award, Item};

use super::glass_reports::GlassReport;
use crate::cell_worth::CellWorth;
use crate::decide::{Outcome, Reached};
use crate::decision_words::{count_of, percent};
use crate::script::Script;

/// Help for the first page: where the marks were lost, and what helps most.
/// A subject is named only where its marks say more than those of the whole; else why none is.
pub(super) fn help(
    exam: &Exam,
    script: &Script<'_>,
    glasses: &[GlassReport],
    worth: &CellWorth,
) -> Vec<String> {
    let mut help = Vec::new();
    match script.decision.outcome {
        Outcome::Pass => return help,
        Outcome::Absent => {
            help.push("Ask the school when the exam can be sat again.".to_owned());
            return help;
        }
        Outcome::Waiting => help.push(
            "Some answers are still being looked at by a person; the result follows. The marks \
             below are what is certain so far."
                .to_owned(),
        ),
        Outcome::Fail => {}
    }
    for part in &script.decision.parts {
        if part.reached == Some(Reached::Yes) {
            help.push(format!(
                "Your {} part is above its cut ({}); that work was done well.",
                part.part,
                percent(part.per_mille)
            ));
        }
    }
    let lost = weakest_cells(exam, script);
    let named: Vec<&str> = lost
        .iter()
        .filter(|(cell, _)| worth.names(cell))
        .take(3)
        .map(|(_, words)| words.as_str())
        .collect();
    if !named.is_empty() {
        help.push(format!(
            "In theory most marks were lost in {}. Begin there.",
            named.join(", ")
        ));
    } else if !lost.is_empty() {
        help.extend(worth.why_none());
    }
    let missed = missed_words(glasses);
    if missed > 0 {
        help.push(format!(
            "In the glasses the panel found {} that you did not name; they are marked in the lists \
             below.",
            count_of(missed, "word", "words")
        ));
    }
    let open = script
        .awards
        .iter()
        .filter(|award| award.counts && award.answer.trim().is_empty())
        .count();
    if open > 0 {
        let open = u32::try_from(open).unwrap_or(u32::MAX);
        let (them, it) = if open == 1 {
            ("was", "it")
        } else {
            ("were", "them")
        };
        help.push(format!(
            "{} {them} left open. An open answer earns nothing; a considered guess at {it} can.",
            count_of(open, "question", "questions")
        ));
    }
    help
}

fn missed_words(glasses: &[GlassReport]) -> u32 {
    let missed = glasses
        .iter()
        .flat_map(|glass| &glass.panel_words)
        .filter(|word| !word.found)
        .count();
    u32::try_from(missed).unwrap_or(u32::MAX)
}

/// "Law and labels (2 of 7 marks)", the cells in which marks were lost, the most first.
fn weakest_cells(exam: &Exam, script: &Script<'_>) -> Vec<(CellId, String)> {
    let mut cells: BTreeMap<&CellId, (Marks, Marks)> = BTreeMap::new();
    for award in script.awards.iter().filter(|award| award.counts) {
        let Item::Theory { question, .. } = &award.item else {
            continue;
        };
        if let Some(known) = exam.bank.questions.get(question) {
            let (have, of) = cells.entry(&known.cell).or_default();
            *have += award.marks();
            *of += award.of;
        }
    }
    let mut lost: Vec<_> = cells
        .into_iter()
        .filter(|(_, (have, of))| have < of)
        .collect();
    lost.sort_by_key(|(_, (have, of))| *have - *of);
    lost.into_iter()
        .map(|(cell, (have, of))| {
            let name = exam.bank.cells.iter().find(|(id, _)| id == cell);
            let name = name.map_or(cell.as_str(), |(_, name)| name.as_str());
            (cell.clone(), format!("{name} ({have} of {of} marks)"))
        })
        .collect()
}

/// Two or three suggestions.
pub(super) fn taste_next(exam: &Exam, script: &Script<'_>, glasses: &[GlassReport]) -> Vec<String> {
    if glasses.is_empty() || script.decision.outcome == Outcome::Absent {
        return Vec::new();
    }
    let mut next: Vec<String> = most_missed_group(exam, glasses).into_iter().collect();
    next.extend(weakest(script, Asked::Category.name()).and_then(|award| by_category(exam, award)));
    let places = ["region", "age"].into_iter();
    next.extend(
        places
            .filter_map(|asked| weakest(script, asked))
            .filter_map(|award| by_region_or_age(exam, award)),
    );
    next.truncate(3);
    if next.is_empty() {
        next.push(
            "Nothing stands out as weak. Taste one family you know less beside one you know well, \
             blind, and compare your words with a colleague's."
                .to_owned(),
        );
    }
    next
}

/// What was missed of one group of words.
#[derive(Default)]
struct Missed<'a> {
    /// The panel's weights summed.
    weight: f64,
    /// The words, each once.
    words: Vec<&'a str>,
    /// What the first glass was in which one was missed.
    was: &'a str,
}

/// The group whose missed words weigh most over all glasses.
fn most_missed_group(exam: &Exam, glasses: &[GlassReport]) -> Option<String> {
    let lexicon = &exam.bank.lexicon;
    let mut groups: BTreeMap<(usize, usize), Missed<'_>> = BTreeMap::new();
    for glass in glasses {
        for word in glass.panel_words.iter().filter(|word| !word.found) {
            let Some(place) = lexicon.place_of(&word.word) else {
                continue;
            };
            let missed = groups.entry((place.family, place.group)).or_default();
            if missed.words.is_empty() {
                missed.was = &glass.was;
            }
            missed.weight += word.weight;
            if !missed.words.contains(&word.word.as_str()) {
                missed.words.push(&word.word);
            }
        }
    }
    let mut groups = groups.into_iter();
    let first = groups.next()?;
    let ((family, group), heaviest) = groups.fold(first, |best, next| {
        if next.1.weight > best.1.weight {
            next
        } else {
            best
        }
    });
    let name = &lexicon.families.get(family)?.groups.get(group)?.name;
    let listed: Vec<&str> = heaviest.words.iter().copied().take(4).collect();
    Some(format!(
        "{name}: the panel named {} where you did not, for example in {}. Smell the things \
         themselves, or a spirit known for them, side by side.",
        listed.join(", "),
        heaviest.was
    ))
}

/// The award for something asked that earned the least share, if less than half.
fn weakest<'a>(script: &Script<'a>, wanted: &str) -> Option<&'a Award> {
    let mut least: Option<&Award> = None;
    for award in &script.awards {
        let asked_here = matches!(&award.item, Item::Tasting { asked, .. } if asked == wanted);
        let share = award.marks().fraction_of(award.of);
        if asked_here
            && share < 0.5
            && least.is_none_or(|other| share < other.marks().fraction_of(other.of))
        {
            least = Some(award);
        }
    }
    least
}

fn by_category(exam: &Exam, award: &Award) -> Option<String> {
    let Item::Tasting { sample, .. } = &award.item else {
        return None;
    };
    let tree = &exam.bank.categories;
    let truth = tree.node(&exam.sample(sample)?.category)?;
    let other = tree.find(&award.answer).filter(|node| node.id != truth.id);
    let sibling = || {
        tree.nodes()
            .iter()
            .find(|node| node.parent == truth.parent && node.id != truth.id)
    };
    Some(match other.or_else(sibling) {
        Some(other) => format!(
            "Taste {} beside {}, neat and with a little water, and write down three differences.",
            truth.name, other.name
        ),
        None => format!("Taste two or three bottles of {} side by side.", truth.name),
    })
}

fn by_region_or_age(exam: &Exam, award: &Award) -> Option<String> {
    let Item::Tasting { sample, asked, .. } = &award.item else {
        return None;
    };
    let record = exam.sample(sample)?;
    let category = &exam.bank.categories.node(&record.category)?.name;
    if asked == "age" {
        return Some(format!(
            "Taste a young and an old bottle of {category} together: cask, tannin and what grows \
             with the years."
        ));
    }
    let region = &exam.bank.regions.node(&record.region)?.name;
    Some(format!(
        "Taste {category} from {region} beside one from elsewhere: what is the place, what is the \
         maker?"
    ))
}
