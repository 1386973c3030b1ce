//! Tests of equating: what is refused and what is read.

use super::*;

#[test]
fn rows_stand_for_as_many_as_they_say_and_faults_come_at_once() {
    let text = SourceText::new("t.csv", "mark,n,anchor\n3,2,1\n4,1,2\n");
    let (marks, anchors) = totals(&text, "mark", Some("anchor"), Some("n")).unwrap();
    assert_eq!(
        (marks, anchors),
        (vec![3.0, 3.0, 4.0], Some(vec![1.0, 1.0, 2.0]))
    );
    let bad = SourceText::new("t.csv", "mark\nx\n-1\n4\n");
    assert_eq!(totals(&bad, "mark", None, None).unwrap_err().len(), 2);
    assert_eq!(
        totals(&bad, "total", Some("also"), None).unwrap_err().len(),
        2
    );
}

#[test]
fn rows_stand_for_whole_numbers_of_candidates_and_for_no_more_than_memory_holds() {
    let part = SourceText::new("t.csv", "mark,n\n3,2.7\n4,-1\n4,100001\n5,1\n");
    let faults = totals(&part, "mark", None, Some("n")).unwrap_err();
    assert_eq!(faults.len(), 3);
    assert!(faults.iter().all(|fault| fault.rule == "bad-count"));
    let many = format!("mark,n\n{}", "3,100000\n".repeat(6));
    let faults = totals(&SourceText::new("t.csv", &many), "mark", None, Some("n")).unwrap_err();
    assert_eq!(faults.len(), 1);
    assert!(
        faults
            .iter()
            .all(|fault| fault.rule == "too-many-candidates")
    );
}

#[test]
fn what_would_be_dropped_or_mean_something_else_is_refused() {
    let tables = |inputs: &[&str]| EquateRequest {
        inputs: inputs.iter().map(PathBuf::from).collect(),
        ..EquateRequest::default()
    };
    let words = |text: &str| vec![text.to_owned()];
    let two = tables(&["x", "y"]);
    assert!(refuse_senseless(&two, true).is_ok());
    assert!(refuse_senseless(&tables(&["x"]), true).is_err());
    assert!(refuse_senseless(&tables(&["x", "x"]), true).is_err());
    let counted = |counts: &[&str]| EquateRequest {
        counts: counts.iter().map(|c| (*c).to_owned()).collect(),
        ..tables(&["x"])
    };
    assert!(refuse_senseless(&counted(&["n", "m"]), true).is_ok());
    assert!(refuse_senseless(&counted(&["n", "n"]), true).is_err());
    assert!(refuse_senseless(&counted(&["n"]), true).is_err());
    for beside in [Some("common".to_owned()), None] {
        let request = EquateRequest {
            anchor_beside: true,
            anchor_questions: words("q1"),
            anchor: beside.clone(),
            ..two.clone()
        };
        assert_eq!(refuse_senseless(&request, true).is_ok(), beside.is_some());
        assert!(refuse_senseless(&request, false).is_err());
    }
    let form = EquateRequest {
        forms: words("A"),
        ..two.clone()
    };
    assert!(refuse_senseless(&form, true).is_err());
    assert!(refuse_senseless(&form, false).is_ok());
    let highest = EquateRequest {
        highest: vec![20],
        ..two
    };
    assert!(refuse_senseless(&highest, true).is_ok());
    assert!(refuse_senseless(&highest, false).is_err());
}

#[test]
fn halves_go_to_the_even_neighbour_and_are_told() {
    assert_eq!(whole(&[2.5, 3.5, 1.0]), Some((vec![2, 4, 1], true)));
    assert_eq!(whole(&[-1.0]), None);
}
