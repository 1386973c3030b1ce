//! A thousand marks worked out again from nothing but their sentences, as a candidate would with
//! pencil and paper. What the answer earned is struck out of each sentence first.
#![allow(clippy::unwrap_used, clippy::panic)]

use base::{ExamSeed, Marks, Purpose, Stream};
use exam_plan::Asked;
use exam_plan::plan::{TastingPart, TastingQuestion};
use question_bank::question_kind::{MultipleResponseRule, OrderingRule};
use question_bank::{PrintedOrder, QuestionKind};
use std::collections::BTreeMap;

use crate::example::{
    Glass, best_answer, every_asked, list, marks, matching, multiple_response, numeric, ordering,
    part, question, short_answer,
};
use crate::sentences::Sentences;
use crate::{SampleKey, Verdict, mark_tasting, mark_theory};

/// The numbers of a text in their order.
fn numbers(text: &str) -> Vec<f64> {
    text.split(|c: char| !(c.is_ascii_digit() || c == '.'))
        .filter_map(|number| number.trim_matches('.').parse().ok())
        .collect()
}

/// The number behind these words.
fn behind(text: &str, words: &str) -> Option<f64> {
    let (_, rest) = text.split_once(words)?;
    numbers(rest).first().copied()
}

/// The sentence without what was earned, and full marks where the sentence says them.
fn struck_out(sentence: &str, verdict: &Verdict, of: Marks) -> String {
    let earned = super::Earned {
        marks: verdict.marks(),
        of,
    };
    sentence.replacen(&earned.told(Sentences::english()), "", 1)
}

/// What was marked, by hand from the sentence: a share of full marks.
fn share(sentence: &str) -> f64 {
    let n = numbers(sentence);
    let at = |place: usize| {
        n.get(place)
            .copied()
            .unwrap_or_else(|| panic!("{sentence}"))
    };
    let floor = |share: f64| share.clamp(0.0, 1.0);
    if sentence.contains("right options and") {
        let (h, t, f, w) = (at(0), at(1), at(2), at(3));
        let judged_rightly = h + (w - f);
        let all = t + w;
        let right = |yes: bool| f64::from(u8::from(yes));
        return floor(match sentence.split_once("are marked").unwrap().1 {
            says if says.contains("without any error") => right(judged_rightly == all),
            says if says.contains("each option judged") => judged_rightly / all,
            says if says.contains("one error leaves") => {
                [1.0, 0.5][usize::from(judged_rightly != all)] * right(all - judged_rightly < 2.0)
            }
            says if says.contains("half of the options") => {
                if judged_rightly == all {
                    1.0
                } else {
                    0.5 * right(2.0 * judged_rightly >= all)
                }
            }
            says if says.contains("takes back") => (h - f) / t,
            says if says.contains("more marks than") => right(h + f <= t) * h / t,
            says if says.contains("share of wrong ones") => h / t - f / w,
            says if says.contains("right or marked") => h / (t + f),
            says if says.contains("count twice") => 2.0 * h / (t + h + f),
            other => panic!("{other}"),
        });
    }
    if let Some((found, rest)) = sentence.split_once("; weight ") {
        let n = numbers(rest);
        let lost = match found.split_once("contradicting this sample: ") {
            Some((_, words)) => {
                let (words, _) = words.split_once(" (less 15 %").unwrap();
                0.15 * words.split(", ").count() as f64
            }
            None => 0.0,
        };
        let share = floor((n[0] / n[1]).min(1.0) - lost);
        let chance = behind(rest, "less the ").unwrap_or(0.0);
        return floor((share - chance) / (1.0 - chance));
    }
    if sentence.contains("same branch") {
        let nearness = behind(sentence, "nearness ").unwrap();
        let guess = behind(sentence, "less the ").unwrap();
        return floor((nearness - guess) / (1.0 - guess));
    }
    if let Some((_, rest)) = sentence.split_once("interval score ") {
        let n = numbers(rest);
        return floor((n[2] - n[0]) / (n[2] - n[1]));
    }
    if let Some((given, rest)) = sentence.split_once(" beside the panel's mean of ") {
        let n = numbers(rest);
        let apart = (numbers(given)[0] - n[0]).abs() / n[2];
        return floor((3.0 - apart) / 2.0);
    }
    if let Some(squares) = behind(sentence, "squared distances of ") {
        return 1.0 - squares / 2.0;
    }
    if let Some((_, formula)) = sentence.split_once("were given to it, ln(") {
        let n = numbers(formula);
        return floor(libm::log(n[0] / n[1] * n[2]) / libm::log(n[3]));
    }
    for (words, share) in [
        ("a known mistake", 0.0),
        ("farther than", 0.0),
        ("earns half", 0.5),
        ("lies within", 1.0),
        ("no marks", 0.0),
        ("full marks", 1.0),
        ("is accepted", 1.0),
        ("slip of the pen", 1.0),
        ("is marked, ", 0.0),
        ("no answer", 0.0),
        ("the next band", 0.5),
        ("bands apart", 0.0),
    ] {
        if sentence.contains(words) {
            return share;
        }
    }
    if sentence.contains("do not") {
        return floor((at(1) - at(2)) / at(0));
    }
    if sentence.contains("only a whole order") {
        return f64::from(u8::from(at(0) == at(1)));
    }
    if sentence.contains("places from their own") || sentence.contains("squared") {
        return floor(1.0 - at(0) / at(1));
    }
    if sentence.contains("steps apart") {
        return floor(1.0 - at(2) / at(3));
    }
    let one_thing = sentence.ends_with("is right") && !sentence.contains("wanted entries");
    if one_thing || sentence.ends_with(": right") {
        return 1.0;
    }
    // "3 of 4 pairs are right", "2 of 3 wanted entries", "2 of 4 steps", "1 of 3 true neighbours".
    floor(at(0) / at(1))
}

/// How far the recomputed mark may lie from the exact one, in thousandths: numbers that are rounded
/// to five places let three tenths of a thousandth through at ten marks.
fn slack(sentence: &str) -> f64 {
    let rounded = sentence.contains("same branch") || sentence.contains("beside the panel");
    if rounded { 0.3 } else { 1e-6 }
}

struct Draws(Stream);

impl Draws {
    fn below(&mut self, n: usize) -> usize {
        self.0.index(n)
    }
    fn one<'a>(&mut self, of: &[&'a str]) -> &'a str {
        of[self.below(of.len())]
    }
    fn several(&mut self, of: &[&str], most: usize, joiner: &str) -> String {
        let count = 1 + self.below(most);
        let words: Vec<&str> = (0..count).map(|_| self.one(of)).collect();
        words.join(joiner)
    }
}

fn theory(draws: &mut Draws) -> (QuestionKind, String) {
    let letters = ["A", "B", "C", "D", "E"];
    match draws.below(7) {
        0 => (best_answer(), draws.several(&letters[..3], 2, " ")),
        1 => {
            let (_, rule) = MultipleResponseRule::ALL[draws.below(9)];
            (multiple_response(rule), draws.several(&letters, 5, " "))
        }
        2 => (
            numeric(),
            format!("{:.1}", 45.0 + draws.below(40) as f64 / 10.0),
        ),
        3 => {
            let (_, rule) = OrderingRule::ALL[draws.below(8)];
            let mut steps = letters[..4].to_vec();
            draws.0.shuffle(&mut steps);
            (ordering(rule), steps.join(" "))
        }
        4 => {
            let pairs: Vec<&str> = (0..3).map(|_| draws.one(&letters[..4])).collect();
            (matching(), pairs.join(" "))
        }
        5 => {
            let entries = ["barley", "malted barley", "rye", "corn", "wheat"];
            (list(), draws.several(&entries, 5, "; "))
        }
        _ => (
            short_answer(),
            draws.one(&["Ugni blanc", "Ugni blank"]).to_owned(),
        ),
    }
}

fn tasting(draws: &mut Draws, glass: &Glass, asked: &Asked) -> String {
    let words = glass.lexicon.words();
    let words: Vec<String> = words.map(|(_, word)| word.word.clone()).collect();
    let words: Vec<&str> = words.iter().map(String::as_str).collect();
    let names = |nodes: &[question_bank::taxonomy::Node]| {
        nodes
            .iter()
            .map(|node| node.name.clone())
            .collect::<Vec<_>>()
    };
    match asked {
        Asked::Aroma { .. } | Asked::Water { .. } => draws.several(&words, 5, "; "),
        Asked::Category | Asked::Region => {
            let all = match asked {
                Asked::Category => names(glass.categories.nodes()),
                _ => names(glass.regions.nodes()),
            };
            all[draws.below(all.len())].clone()
        }
        Asked::Age(exam_plan::plan::AgeAnswer::Band { .. }) => draws.below(25).to_string(),
        Asked::Age(exam_plan::plan::AgeAnswer::Range) => {
            let low = draws.below(60) as f64 / 4.0;
            format!("{low} to {}", low + draws.below(60) as f64 / 4.0)
        }
        Asked::Strength { .. } => format!("{:.1}", 38.0 + draws.below(100) as f64 / 10.0),
        Asked::Colour => draws.below(11).to_string(),
        Asked::Body | Asked::Finish => (1 + draws.below(5)).to_string(),
        Asked::Quality => format!("{:.1}", draws.below(101) as f64 / 10.0),
        Asked::Fault { .. } => draws.one(&["corked", "feinty", "none"]).to_owned(),
        Asked::Confidence(_) => {
            let first = draws.below(101);
            let second = draws.below(101 - first);
            format!("{first} {second} {}", 100 - first - second)
        }
        Asked::Producer { .. } => draws
            .one(&["Copper Bay Estate", "Salt Lantern", "X"])
            .to_owned(),
    }
}

#[test]
fn a_thousand_marks_follow_from_the_numbers_in_their_sentences() {
    let mut draws = Draws(Stream::new(
        &ExamSeed::from_bytes([7; 32]),
        Purpose::Practice,
        0,
    ));
    let glass = Glass::new();
    let [plain, less] = [false, true].map(|less_chance| {
        let ask = every_asked().into_iter().map(|asked| TastingQuestion {
            asked,
            marks: marks("1"),
        });
        let part = TastingPart {
            less_chance,
            ask: ask.collect(),
            ..part()
        };
        SampleKey::new(&glass.record, glass.words(), &part)
    });
    let mut done: BTreeMap<&'static str, usize> = BTreeMap::new();
    let mut parts_of_marks = 0;
    while done.values().sum::<usize>() < 1000 {
        let of = marks(draws.one(&["0.5", "1", "2", "3", "7", "10"]));
        let verdict = if draws.below(2) == 0 {
            let (kind, answer) = theory(&mut draws);
            let order = PrintedOrder::as_written(kind.lettered());
            let mut asked = question(kind, "1");
            asked.marks = of;
            mark_theory(&asked, &order, &answer)
        } else {
            let mut all = every_asked();
            let asked = all.swap_remove(draws.below(all.len()));
            let answer = tasting(&mut draws, &glass, &asked);
            let key = if draws.below(2) == 0 { &plain } else { &less };
            mark_tasting(
                key,
                glass.words(),
                &TastingQuestion { asked, marks: of },
                &answer,
            )
        };
        let Verdict::Marked {
            marks,
            reason,
            rule,
        } = &verdict
        else {
            continue;
        };
        let sentence = reason.told(Sentences::english());
        let left = struck_out(&sentence, &verdict, of);
        let by_hand = share(left.trim_end_matches([' ', ':', ','])) * of.as_f64() * 1000.0;
        let given = marks.thousandths() as f64;
        assert!(
            (by_hand - given).abs() <= 0.5 + slack(&left),
            "{by_hand} for {sentence}"
        );
        parts_of_marks += usize::from(*marks > Marks::ZERO && *marks < of);
        *done.entry(rule).or_default() += 1;
    }
    // Nine rules of choice, eight of order, and all the others but essays and variants.
    assert!(done.len() >= 34, "{done:?}");
    assert!(
        parts_of_marks > 250,
        "{parts_of_marks} marks between nothing and all"
    );
}
