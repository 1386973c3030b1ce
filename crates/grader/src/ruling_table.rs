//! Reads and writes tables of decisions: what waits goes out with empty columns, what a person
//! decided comes in.
//!
//! Columns: `of` (`question ID`, or `sample ID ASKED`), `written`, `decision` (`as WORD`,
//! `nothing`, or `1.5 marks`), `why`, `by`, and where a decision is for one script alone `script`
//! with its number. A row without a decision is not decided yet.

use base::table::{Row, Table};
use base::{CandidateNumber, Fault, Marks, QuestionId, SampleId, SourceText};

use crate::for_a_person::{Subject, ToDecide};
use crate::ruling::{Judgement, Ruling, Rulings};

/// The first line of a table of what waits.
pub const HEADER: [&str; 9] = [
    "of", "written", "because", "near", "most", "answers", "decision", "why", "by",
];

/// What the column `of` says of a subject.
#[must_use]
pub fn subject_words(subject: &Subject) -> String {
    match subject {
        Subject::Theory(question) => format!("question {question}"),
        Subject::Tasting(sample, asked) => format!("sample {sample} {asked}"),
    }
}

/// The rows of a table of what waits, below [`HEADER`].
#[must_use]
pub fn waiting_rows(waiting: &[ToDecide]) -> Vec<[String; 9]> {
    waiting
        .iter()
        .map(|one| {
            [
                subject_words(&one.subject),
                one.written.clone(),
                one.why.clone(),
                one.near.join(", "),
                one.of.to_string(),
                one.answers.to_string(),
                String::new(),
                String::new(),
                String::new(),
            ]
        })
        .collect()
}

/// Reads a table of decisions into those that are there already; what is faulty is told and left
/// out.
#[must_use]
pub fn read_rulings(source: &SourceText, rulings: &mut Rulings) -> Vec<Fault> {
    let table = match Table::read(source) {
        Ok(table) => table,
        Err(fault) => return vec![*fault],
    };
    let mut faults = Vec::new();
    let Some([of, written, decision]) = table.columns(
        ["of", "written", "decision"],
        &["because", "near", "most", "answers", "why", "by", "script"],
        &mut faults,
    ) else {
        return faults;
    };
    let others = ["why", "by", "script"].map(|name| table.column(name));
    for row in table.rows() {
        let said = row.cell(decision);
        if said.text.is_empty() {
            continue;
        }
        let [why, by, script] =
            others.map(|column| column.map(|column| row.cell(column)).unwrap_or_default());
        let fault = |cell: &base::table::Cell, words: String| {
            Fault::new("bad-decision", table.place(&cell.bytes), words)
        };
        let subject = subject(&row.cell(of).text).ok_or_else(|| {
            fault(
                &row.cell(of),
                format!(
                    "\"{}\" says not what this is of",
                    base::walk::shortened(&row.cell(of).text)
                ),
            )
            .allowed("question ID, or sample ID ASKED")
            .hint("leave this column as it was written out")
        });
        let judgement = judgement(&said.text).ok_or_else(|| {
            fault(
                &said,
                format!("\"{}\" is no decision", base::walk::shortened(&said.text)),
            )
            .allowed("as WORD, nothing, or a number of marks such as 1.5 marks")
            .hint("to decide later, leave it empty")
        });
        let script = if script.text.is_empty() {
            Ok(None)
        } else {
            CandidateNumber::parse(&script.text).map(Some).map_err(|_| {
                fault(
                    &script,
                    format!(
                        "\"{}\" is no candidate number",
                        base::walk::shortened(&script.text)
                    ),
                )
                .allowed(CandidateNumber::ALLOWED)
            })
        };
        if by.text.is_empty() {
            faults.push(
                Fault::new(
                    "nobody-decided",
                    table.place(&row_bytes(row, &by)),
                    "this decision says not by whom",
                )
                .allowed("a role or initials in the column by")
                .hint("a decision that nobody stands for cannot be defended"),
            );
            continue;
        }
        match (subject, judgement, script) {
            (Ok(subject), Ok(judgement), Ok(script)) => {
                let ruling = Ruling {
                    subject,
                    script,
                    written: row.cell(written).text,
                    judgement,
                    why: why.text,
                    by: by.text,
                    place: Some(table.place(row.bytes())),
                };
                if let Err(earlier) = rulings.add(ruling) {
                    faults.push(
                        fault(
                            &said,
                            format!(
                                "about \"{}\" something else was decided before, by {}",
                                base::walk::shortened(&earlier.written),
                                earlier.by
                            ),
                        )
                        .hint("the earlier decision stands; take one of the two out"),
                    );
                }
            }
            (subject, judgement, script) => {
                faults.extend(subject.err());
                faults.extend(judgement.err());
                faults.extend(script.err());
            }
        }
    }
    faults
}

/// The cell where it stands, else the row.
fn row_bytes(row: &Row, cell: &base::table::Cell) -> std::ops::Range<usize> {
    if cell.bytes.is_empty() {
        row.bytes().clone()
    } else {
        cell.bytes.clone()
    }
}

fn subject(words: &str) -> Option<Subject> {
    let mut words = words.split_whitespace();
    let subject = match words.next()? {
        "question" => Subject::Theory(QuestionId::parse(words.next()?).ok()?),
        "sample" => Subject::Tasting(
            SampleId::parse(words.next()?).ok()?,
            words.next()?.to_owned(),
        ),
        _ => return None,
    };
    words.next().is_none().then_some(subject)
}

fn judgement(words: &str) -> Option<Judgement> {
    if words.eq_ignore_ascii_case("nothing") {
        return Some(Judgement::Nothing);
    }
    if let Some(known) = words.strip_prefix("as ") {
        let known = known.trim().trim_matches('"');
        return (!known.is_empty()).then(|| Judgement::StandsFor(known.to_owned()));
    }
    let number = words
        .strip_suffix("marks")
        .or_else(|| words.strip_suffix("mark"))
        .unwrap_or(words);
    let marks = number.trim().parse::<Marks>().ok()?;
    (marks >= Marks::ZERO).then_some(Judgement::Earns(marks))
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    fn read(text: &str) -> (Rulings, Vec<String>) {
        let mut rulings = Rulings::default();
        let faults = read_rulings(&SourceText::new("d.csv", text), &mut rulings);
        let told = faults
            .iter()
            .map(|f| format!("{}:{}", f.rule, f.place.as_ref().map_or(0, |p| p.line)))
            .collect();
        (rulings, told)
    }

    #[test]
    fn decisions_are_read_and_empty_rows_wait() {
        let (rulings, told) = read(
            "of,written,near,decision,why,by,script\n\
            question law-1,moonshine,,as poitín,same thing,CE,\n\
            sample rum-1 aroma,zzyx,,nothing,,CE,\n\
            question essay-2,see script,,1.5 marks,good,M1,C-07\n\
            question law-2,later,,,,,\n",
        );
        assert_eq!(told, [""; 0]);
        let all = rulings.all();
        assert_eq!(all.len(), 3);
        assert_eq!(all[0].judgement, Judgement::StandsFor("poitín".to_owned()));
        assert_eq!(
            all[1].subject,
            Subject::Tasting(SampleId::parse("rum-1").unwrap(), "aroma".to_owned())
        );
        assert_eq!(all[2].script.as_ref().unwrap().as_str(), "C-07");
    }

    #[test]
    fn every_fault_has_its_line() {
        let (_, told) = read(
            "of,written,decision,by\n\
            quest law-1,a,maybe,CE\n\
            question law-1,a,nothing,\n\
            question law-1,b,nothing,CE\n\
            question law-1,B,as rum,CE\n",
        );
        assert_eq!(
            told,
            [
                "bad-decision:2",
                "bad-decision:2",
                "nobody-decided:3",
                "bad-decision:5"
            ]
        );
    }

    #[test]
    fn what_goes_out_comes_in_again() {
        let waiting = ToDecide {
            subject: Subject::Tasting(SampleId::parse("rum-1").unwrap(), "aroma".to_owned()),
            written: "a, \"b\"".to_owned(),
            why: String::new(),
            near: vec!["x".to_owned()],
            answers: 2,
            of: Marks::ONE,
        };
        let [row] = <[_; 1]>::try_from(waiting_rows(&[waiting])).unwrap();
        assert_eq!(row[0], "sample rum-1 aroma");
        assert!(subject(&row[0]).is_some());
    }
}
