//! The list of all sheets: name, template, and who may see it.

/// A printed sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Sheet {
    /// The theory paper of one form.
    TheoryBooklet,
    /// The page that makes a booklet one candidate's.
    CandidateCover,
    /// The sheets that candidates write on.
    AnswerSheet,
    /// Labels for glasses and bottles.
    Labels,
    /// Bottles, water, volumes and codes by sample.
    PourSheet,
    /// Seats, forms, codes in order, incidents.
    RoomSheet,
    /// What goes into the parcel of a candidate who sits elsewhere.
    PackingList,
    /// What closes a kit, with a code.
    SealStrip,
    /// What is open when kits are filled, and what must be in which bottle.
    KitCheck,
    /// What the marker marks by.
    MarkerGuide,
    /// Question, key and id per form.
    Key,
    /// One candidate's result and reasons.
    CandidateReport,
    /// What an appeal of one candidate is decided by.
    AppealFile,
    /// That somebody passed, with a number to check.
    Certificate,
    /// The class on one look.
    ClassSummary,
    /// What the class made of each sample.
    SamplePages,
    /// How each question was answered.
    QuestionPages,
    /// The words to choose from.
    ReferenceList,
    /// What to print how often.
    PrintList,
    /// What a rehearsal says about the exam to come.
    RehearsalForecast,
    /// What a judge writes when a cut is set.
    JudgeSheet,
    /// What a learner writes on in a guided flight.
    ClassSheet,
    /// A learner's notes beside the panel's.
    LearnerPage,
}

/// Who may see a sheet.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Audience {
    /// Candidates, before and during the sitting: holds no key.
    Candidate,
    /// The proctor in the room: holds no key.
    Proctor,
    /// Examiners, the pourer and markers alone.
    Examiner,
    /// The candidate it is about, after the decision.
    Released,
}

impl Sheet {
    /// All sheets.
    pub const ALL: [Self; 23] = [
        Self::TheoryBooklet,
        Self::CandidateCover,
        Self::AnswerSheet,
        Self::Labels,
        Self::PourSheet,
        Self::RoomSheet,
        Self::PackingList,
        Self::SealStrip,
        Self::KitCheck,
        Self::MarkerGuide,
        Self::Key,
        Self::CandidateReport,
        Self::AppealFile,
        Self::Certificate,
        Self::ClassSummary,
        Self::SamplePages,
        Self::QuestionPages,
        Self::ReferenceList,
        Self::PrintList,
        Self::RehearsalForecast,
        Self::JudgeSheet,
        Self::ClassSheet,
        Self::LearnerPage,
    ];

    /// The sheet's name in messages.
    #[must_use]
    pub const fn name(self) -> &'static str {
        match self {
            Self::TheoryBooklet => "theory booklet",
            Self::CandidateCover => "candidate cover",
            Self::AnswerSheet => "answer sheet",
            Self::Labels => "labels",
            Self::PourSheet => "pour sheet",
            Self::RoomSheet => "room sheet",
            Self::PackingList => "packing list",
            Self::SealStrip => "seal strips",
            Self::KitCheck => "kit check",
            Self::MarkerGuide => "marker's guide",
            Self::Key => "key",
            Self::CandidateReport => "candidate report",
            Self::AppealFile => "appeal file",
            Self::Certificate => "certificate",
            Self::ClassSummary => "class summary",
            Self::SamplePages => "sample pages",
            Self::QuestionPages => "question pages",
            Self::ReferenceList => "reference list",
            Self::PrintList => "print list",
            Self::RehearsalForecast => "rehearsal forecast",
            Self::JudgeSheet => "judge's sheet",
            Self::ClassSheet => "class sheet",
            Self::LearnerPage => "learner's page",
        }
    }

    /// The file of the templates folder that makes it.
    #[must_use]
    pub const fn template(self) -> &'static str {
        match self {
            Self::TheoryBooklet => "theory-booklet.typ.jinja",
            Self::CandidateCover => "candidate-cover.typ.jinja",
            Self::AnswerSheet => "answer-sheet.typ.jinja",
            Self::Labels => "labels.typ.jinja",
            Self::PourSheet => "pour-sheet.typ.jinja",
            Self::RoomSheet => "room-sheet.typ.jinja",
            Self::PackingList => "packing-list.typ.jinja",
            Self::SealStrip => "seal-strip.typ.jinja",
            Self::KitCheck => "kit-check.typ.jinja",
            Self::MarkerGuide => "marker-guide.typ.jinja",
            Self::Key => "key.typ.jinja",
            Self::CandidateReport => "candidate-report.typ.jinja",
            Self::AppealFile => "appeal-file.typ.jinja",
            Self::Certificate => "certificate.typ.jinja",
            Self::ClassSummary => "class-summary.typ.jinja",
            Self::SamplePages => "sample-pages.typ.jinja",
            Self::QuestionPages => "question-pages.typ.jinja",
            Self::ReferenceList => "reference-list.typ.jinja",
            Self::PrintList => "print-list.typ.jinja",
            Self::RehearsalForecast => "rehearsal-forecast.typ.jinja",
            Self::JudgeSheet => "judge-sheet.typ.jinja",
            Self::ClassSheet => "class-sheet.typ.jinja",
            Self::LearnerPage => "learner-page.typ.jinja",
        }
    }

    /// Who may see it.
    #[must_use]
    pub const fn audience(self) -> Audience {
        match self {
            Self::TheoryBooklet
            | Self::CandidateCover
            | Self::AnswerSheet
            | Self::Labels
            | Self::PackingList
            | Self::SealStrip
            | Self::ReferenceList
            | Self::ClassSheet => Audience::Candidate,
            Self::RoomSheet => Audience::Proctor,
            Self::PourSheet
            | Self::KitCheck
            | Self::MarkerGuide
            | Self::Key
            | Self::ClassSummary
            | Self::SamplePages
            | Self::QuestionPages
            | Self::PrintList
            | Self::RehearsalForecast
            | Self::JudgeSheet => Audience::Examiner,
            Self::CandidateReport | Self::AppealFile | Self::LearnerPage | Self::Certificate => {
                Audience::Released
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::template_set::shipped_templates;

    #[test]
    fn every_sheet_has_a_template_and_every_template_a_sheet() {
        let shipped = shipped_templates();
        for sheet in Sheet::ALL {
            assert_eq!(
                shipped
                    .iter()
                    .filter(|(name, _)| *name == sheet.template())
                    .count(),
                1,
                "{sheet:?}"
            );
        }
        for (name, _) in shipped {
            let used = Sheet::ALL
                .iter()
                .filter(|sheet| sheet.template() == *name)
                .count();
            assert_eq!(used, usize::from(*name != "look.typ.jinja"), "{name}");
        }
    }

    #[test]
    fn whatever_pours_or_tastes_shows_its_cautions() {
        for sheet in [
            Sheet::TheoryBooklet,
            Sheet::CandidateCover,
            Sheet::PourSheet,
            Sheet::RoomSheet,
            Sheet::PackingList,
            Sheet::KitCheck,
            Sheet::ClassSheet,
        ] {
            let text = shipped_templates()
                .iter()
                .find(|(name, _)| *name == sheet.template())
                .map_or("", |(_, text)| text);
            assert!(text.contains("content.cautions"), "{sheet:?}");
        }
        let answer = shipped_templates()
            .iter()
            .find(|(name, _)| *name == Sheet::AnswerSheet.template())
            .map_or("", |(_, text)| text);
        assert!(answer.contains("content.tasting_caution"));
    }

    #[test]
    fn no_candidate_template_speaks_of_keys() {
        for sheet in Sheet::ALL
            .into_iter()
            .filter(|sheet| sheet.audience() == Audience::Candidate)
        {
            let text = shipped_templates()
                .iter()
                .find(|(name, _)| *name == sheet.template())
                .map_or("", |(_, text)| text);
            assert!(!text.contains(".key"), "{sheet:?}");
        }
    }
}
