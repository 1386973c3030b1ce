//! Candidate numbers as file names.

/// A candidate number as a file name: a slash, which numbers may hold, becomes a plus, which they may
/// not hold, so that no two numbers share a file.
pub(crate) fn safe_file_name(number: &str) -> String {
    number.replace('/', "+")
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use base::CandidateNumber;

    #[test]
    fn numbers_that_differ_have_files_that_differ() {
        let numbers = ["A/1", "A-1", "A_1", "A.1", "A//1", "A/-1", "A-/1"];
        let names: std::collections::BTreeSet<String> = numbers
            .iter()
            .map(|number| safe_file_name(CandidateNumber::parse(number).unwrap().as_str()))
            .collect();
        assert_eq!(names.len(), numbers.len());
        assert!(names.iter().all(|name| !name.contains('/')));
        // No number can hold what stands for the slash.
        assert!(CandidateNumber::parse("A+1").is_err());
    }
}
