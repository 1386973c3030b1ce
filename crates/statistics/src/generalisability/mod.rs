//! Where does error come from (questions, samples, markers), and how many of each would do?

pub mod crossed_scores;
pub mod decision_study;
pub mod persons_by_items;
pub mod persons_by_items_by_markers;
pub mod persons_by_raters_in_tasks;
pub mod restricted_likelihood;
pub mod unbalanced_components;
