//! What every sheet has in common: the exam's head, paper and language.

use exam_plan::{Exam, Paper};
use renderer::content::ExamHead;
use renderer::{Language, Look};

use crate::open_sitting::DrawnSitting;

/// The head of every sheet.
pub(crate) fn exam_head(exam: &Exam) -> ExamHead {
    let plan = &exam.plan;
    head_of(
        &plan.title,
        plan.school.as_deref(),
        &plan.date,
        plan.start.as_deref(),
    )
}

/// The head of a sheet from what stands in it.
pub(crate) fn head_of(
    title: &str,
    school: Option<&str>,
    date: &str,
    start: Option<&str>,
) -> ExamHead {
    let date = date_in_words(date);
    ExamHead {
        title: title.to_owned(),
        school: school.unwrap_or_default().to_owned(),
        date: match start {
            Some(start) => format!("{date}, {start}"),
            None => date,
        },
        note: String::new(),
    }
}

/// Paper and language.
pub(crate) fn look(exam: &Exam) -> Look {
    look_of(exam.plan.paper, &exam.bank.language)
}

/// Paper and language from what says them.
pub(crate) fn look_of(paper: Paper, language: &str) -> Look {
    let paper = match paper {
        Paper::A4 => sheet_layout::Paper::A4,
        Paper::Letter => sheet_layout::Paper::Letter,
    };
    // A language tag may have more parts; sheets are set by its first.
    let code = language.split('-').next().unwrap_or("");
    Look {
        paper,
        language: Language::of_code(code).unwrap_or_else(Language::english),
        ledger_head: String::new(),
    }
}

/// The same for a sheet of a sitting: the head of the ledger stands at its foot.
pub(crate) fn sitting_look(open: &DrawnSitting) -> Look {
    Look {
        ledger_head: open.custody.head_in_words(),
        ..look(&open.exam)
    }
}

/// What the warm-up is, which everybody may know; none where there is none.
pub(crate) fn warm_up_name(open: &DrawnSitting) -> Option<String> {
    let (id, _) = open.exam.plan.tasting.as_ref()?.warm_up.as_ref()?;
    Some(open.exam.sample(id)?.name.clone())
}

const MONTHS: [&str; 12] = [
    "January",
    "February",
    "March",
    "April",
    "May",
    "June",
    "July",
    "August",
    "September",
    "October",
    "November",
    "December",
];

/// `2027-06-12` as "12 June 2027".
pub(crate) fn date_in_words(date: &str) -> String {
    let mut parts = date.split('-');
    let (year, month, day) = (parts.next(), parts.next(), parts.next());
    let month = month
        .and_then(|m| m.parse::<usize>().ok())
        .and_then(|m| MONTHS.get(m.checked_sub(1)?));
    match (year, month, day) {
        (Some(year), Some(month), Some(day)) => {
            format!("{} {month} {year}", day.trim_start_matches('0'))
        }
        _ => date.to_owned(),
    }
}

/// "1 mark", "2.5 marks".
pub(crate) fn marks_in_words(marks: base::Marks) -> String {
    if marks == base::Marks::ONE {
        "1 mark".to_owned()
    } else {
        format!("{marks} marks")
    }
}

/// "1 question", "20 questions".
pub(crate) fn count(number: usize, one: &str) -> String {
    if number == 1 {
        format!("1 {one}")
    } else {
        format!("{number} {one}s")
    }
}

/// "20 ml", "12.5 ml".
pub(crate) fn millilitres(ml: f64) -> String {
    let rounded = (ml * 10.0).round() / 10.0;
    format!("{rounded} ml")
}

/// "40 % vol", "46.3 % vol".
pub(crate) fn strength(percent: f64) -> String {
    let rounded = (percent * 10.0).round() / 10.0;
    format!("{rounded} % vol")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn dates_are_written_out() {
        assert_eq!(date_in_words("2027-06-02"), "2 June 2027");
        assert_eq!(date_in_words("soon"), "soon");
    }
}
