//! The use cases, each one function: load, check, assemble, print, pour, mark, results, practise,
//! rehearse. The only room besides the register that reads and writes files, and it does so
//! through [`Surroundings`], so that tests can stand in for the world.

pub mod analyse;
pub mod answers;
pub mod appeal;
pub mod assemble;
pub mod bank_exchange;
mod bank_history;
pub mod bank_table;
pub mod certificates;
pub mod chance_lines;
pub mod check;
pub mod class;
pub mod cut;
pub mod decisions;
pub mod dilute;
pub mod disk;
pub mod equate;
pub mod failure;
mod file_name;
pub mod forms_page;
mod fresh_file;
pub mod give_results;
pub mod incidents;
pub mod load;
pub mod mark;
pub mod moderate;
pub mod open_sitting;
mod own_sentences;
pub mod panel;
pub mod people;
pub mod person;
pub mod planned_cover;
pub mod pour;
pub mod practise;
pub mod print;
pub mod public_draw;
pub mod regrade;
pub mod rehearse;
pub mod release;
pub mod response_tables;
pub mod review;
pub mod roles;
pub mod schemas;
pub mod seal;
mod settled;
pub mod surroundings;
pub mod texts;
pub mod verify;

pub use analyse::{AnalyseReport, AnalyseRequest, PassMark, analyse};
pub use appeal::{AppealReport, AppealRequest, appeal};
pub use assemble::{AssembleReport, AssembleRequest, NamesKept, assemble};
pub use bank_history::HistoryLine;
pub use certificates::{CertificateStanding, CertificatesReport, certificates};
pub use check::{CheckReport, CheckRequest, check};
pub use class::{
    ClassNotesReport, ClassNotesRequest, ClassSheetsReport, ClassSheetsRequest, class_notes,
    class_sheets,
};
pub use cut::{CutReport, CutRequest, CutWay, JudgeSheetsRequest, cut, judge_sheets};
pub use dilute::{DiluteReport, DiluteRequest, dilute};
pub use disk::Disk;
pub use equate::{EquateReport, EquateRequest, equate};
pub use failure::Failure;
pub use forms_page::{forms_in_words, forms_table};
pub use give_results::class_sheet::{part_cell, parts_sat};
pub use give_results::{ResultsReport, ResultsRequest, give_results};
pub use mark::{MarkReport, MarkRequest, mark};
pub use moderate::{ModerateReport, ModerateRequest, moderate};
pub use open_sitting::OpenSitting;
pub use people::{Names, names_are_locked, names_will_be_locked};
pub use person::{
    ExportRequest, PersonCorrection, PersonReport, PersonRequest, RetentionRequest, correct_person,
    end_retention, erase_person, export_person,
};
pub use pour::{PourReport, pour};
pub use practise::{Practice, PractiseRequest, TastingPractice};
pub use print::{PrintReport, PrintRequest, print};
pub use public_draw::{Announcement, announce};
pub use register::seal::Secret;
pub use register::{Head, Moment, RegisterError, Role};
pub use regrade::{Correction, RegradeReport, RegradeRequest, regrade};
pub use rehearse::{
    AgainstReport, AgainstRequest, RehearseReport, RehearseRequest, population_as_in, rehearse,
    rehearse_against,
};
pub use release::release;
pub use review::{DecisionStands, ReviewReport, ReviewRequest, review};
pub use roles::Stated;
pub use schemas::put_schemas;
pub use surroundings::Surroundings;
pub use verify::{Export, VerifyReport, VerifyRequest, verify};

// What a caller meets in requests and reports, so that it needs no other room than this one.
pub use alcoholometry::StrengthScale;
pub use assembler::FormsBeside;
pub use assembler::candidate_view::PrintedBody;
pub use base::{ExamSeed, Fault, Marks};
pub use question_bank::question::{Level, ReviewState};
pub use response_tables::TableOptions;
pub use results::analysis::{Alikeness, GroupFairness, NEEDS, ScaleModel};
pub use results::cut_meeting::BestOfClass;
pub use results::equating::Way as EquatingWay;
pub use results::rehearsal::{Markers, Mishaps, Population, Taster, Wanted};
pub use serde::Serialize;
