//! Answers, key and rubric make marks, each with its reason.
