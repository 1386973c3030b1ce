//! Clause: a source that was read, computed from or remembered has a clause or page at which a
//! second person can look it up. Common practice has none.

use base::Fault;

use crate::question::{Evidence, Question};

/// Finds a source without clause.
pub(super) fn find(question: &Question) -> Option<Fault> {
    let wanted = match question.source.evidence {
        Evidence::Read | Evidence::Computed | Evidence::Memory => true,
        Evidence::CommonPractice => false,
    };
    (wanted && question.source.clause.is_none()).then(|| {
        Fault::weakness(
            "question-without-clause",
            question.place.clone(),
            format!(
                "\"{}\" names \"{}\" without a clause",
                question.id, question.source.work
            ),
        )
        .hint("add the clause, page or chapter to its source")
    })
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::check::choice::tests::best_answer;

    #[test]
    fn only_common_practice_needs_no_clause() {
        let mut question = best_answer("What?", &["a", "b"]);
        assert!(find(&question).is_none());
        question.source.clause = None;
        assert!(find(&question).is_some());
        question.source.evidence = Evidence::CommonPractice;
        assert!(find(&question).is_none());
    }
}
