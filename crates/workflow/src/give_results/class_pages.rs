//! What the class made of each sample and each question, for the chief examiner.

use renderer::content::examiner::{
    AnswerRow, OtherWordRow, QuestionPages, QuestionSheet, SamplePages, SampleSheet, SampleWordRow,
};
use renderer::content::{ExamHead, Figure};
use results::answer_counts::AnswerCount;
use results::per_question::QuestionPage;
use results::per_sample::SamplePage;
use results::summary::capitalised;

use super::class_sheet::share;

/// A page for each sample.
pub(super) fn samples(head: &ExamHead, pages: &[SamplePage]) -> SamplePages {
    SamplePages {
        exam: head.clone(),
        samples: pages.iter().map(sample).collect(),
    }
}

fn sample(page: &SamplePage) -> SampleSheet {
    let mut figures = vec![share("The whole glass".to_owned(), &page.figure.credit)];
    figures.extend(
        page.figure
            .by_asked
            .iter()
            .map(|asked| -> Figure { share(capitalised(&asked.asked), &asked.credit) }),
    );
    SampleSheet {
        name: page.figure.name.clone(),
        was: page.was.clone(),
        sentences: sentences(page),
        figures,
        words: page
            .words
            .iter()
            .map(|word| SampleWordRow {
                word: word.word.clone(),
                panel: format!("{} of {}", word.cited_by, page.assessors),
                panel_percent: percent(word.cited_by, page.assessors),
                class: format!("{} of {}", word.named_by, page.wrote),
                class_percent: percent(word.named_by, page.wrote),
            })
            .collect(),
        others: page
            .others
            .iter()
            .map(|other| OtherWordRow {
                word: other.word.clone(),
                class: format!("{} of {}", other.named_by, page.wrote),
                standing: other.standing.words().to_owned(),
            })
            .collect(),
        taken_for: answers(&page.taken_for),
        placed_in: answers(&page.placed_in),
    }
}

/// What to see first.
fn sentences(page: &SamplePage) -> Vec<String> {
    let mut said = Vec::new();
    if page.wrote > 0
        && let (Some(most), Some(least)) = (
            page.words.iter().max_by_key(|word| word.named_by),
            page.words.iter().min_by_key(|word| word.named_by),
        )
        && most.named_by > least.named_by
    {
        said.push(format!(
            "Of the panel's words the class named {} most often ({} of {}) and {} least ({} of {}).",
            most.word, most.named_by, page.wrote, least.word, least.named_by, page.wrote
        ));
    }
    if page.wrote == 0 && !page.words.is_empty() {
        said.push("Nobody wrote words about this glass.".to_owned());
    }
    let wrong = page
        .taken_for
        .iter()
        .find(|one| !one.right && one.answer != "no answer");
    if let Some(wrong) = wrong {
        let all: usize = page.taken_for.iter().map(|one| one.n).sum();
        said.push(format!(
            "The commonest other answer to what it is: {} ({} of {all}).",
            wrong.answer, wrong.n
        ));
    }
    said
}

/// A share in whole per cent; nothing of nothing is nothing.
fn percent(n: usize, of: usize) -> u8 {
    let share = (n * 100).checked_div(of).unwrap_or(0);
    u8::try_from(share.min(100)).unwrap_or(100)
}

fn answers(counts: &[AnswerCount]) -> Vec<AnswerRow> {
    let all: usize = counts.iter().map(|one| one.n).sum();
    counts
        .iter()
        .map(|one| AnswerRow {
            answer: one.answer.clone(),
            right: one.right,
            n: one.n.to_string(),
            percent: percent(one.n, all),
            scored: one
                .mean_total
                .map_or_else(String::new, |mean| format!("{:.0} %", mean * 100.0)),
        })
        .collect()
}

/// Every question that was printed.
pub(super) fn questions(head: &ExamHead, pages: &[QuestionPage]) -> QuestionPages {
    QuestionPages {
        exam: head.clone(),
        sentences: vec![
            "Hardest first. Beside each answer: how many gave it, and what those scored in all on \
             average."
                .to_owned(),
            "An answer that the better candidates chose more often than the key wants a look at the \
             key; one that nobody chose does no work."
                .to_owned(),
        ],
        questions: pages.iter().map(question).collect(),
    }
}

fn question(page: &QuestionPage) -> QuestionSheet {
    let mut credit = page.figure.credit.sentence.clone();
    if page.figure.waiting > 0 {
        credit.push_str(&format!(" {} wait for a person.", page.figure.waiting));
    }
    if !page.figure.counts {
        credit.push_str(" On trial: it did not count.");
    }
    let forms: Vec<String> = page
        .printed_as
        .iter()
        .map(|place| format!("form {place}"))
        .collect();
    QuestionSheet {
        id: page.question.to_string(),
        place: format!(
            "{} · {}{}",
            page.cell,
            forms.join(", "),
            if page.numbers_drawn {
                " · the numbers in braces are drawn for each form"
            } else {
                ""
            }
        ),
        stem: page.stem.clone(),
        credit,
        source: page.source.trim_end_matches('.').to_owned(),
        answers: answers(&page.answers),
    }
}
