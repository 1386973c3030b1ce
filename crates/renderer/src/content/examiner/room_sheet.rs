//! The proctor's sheet for the room: seats, forms, codes in order; no sample is named.

use serde::Serialize;

use crate::content::{ExamHead, TimedStep};

/// The room sheet.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct RoomSheet {
    /// The exam.
    pub exam: ExamHead,
    /// The room's name.
    pub room: String,
    /// What must be in the room before candidates come in, to tick.
    pub checklist: Vec<String>,
    /// Times of the sitting.
    pub times: Vec<TimedStep>,
    /// How many glasses stand at each seat, for the columns of the table.
    pub glasses: u8,
    /// The seats in walking order.
    pub seats: Vec<SeatLine>,
    /// Neighbours that could not be kept apart, one sentence each.
    pub neighbours: Vec<String>,
    /// How far serving orders are from balance, one sentence or two each.
    pub orders: Vec<String>,
    /// After which glass one is tasted that must be poured again; empty for fewer than two glasses.
    pub reserves: Vec<ReserveLine>,
    /// What to do if something happens.
    pub incidents: Vec<IfThen>,
    /// How many empty lines for notes.
    pub incident_lines: u8,
    /// The cautions, one sentence each.
    pub cautions: Vec<String>,
    /// The head of the ledger when this was made; empty where there is none.
    pub ledger_head: String,
}

/// One seat.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct SeatLine {
    /// The seat.
    pub seat: String,
    /// The candidate's number; empty for a seat left free.
    pub candidate_number: String,
    /// The form of the theory paper.
    pub form: String,
    /// The glass codes in serving order.
    pub codes: Vec<String>,
}

/// The reserve orders of one seat.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct ReserveLine {
    /// The seat.
    pub seat: String,
    /// By glass in serving order: the code after which it is tasted when it is poured again; empty
    /// where it keeps its place.
    pub after: Vec<String>,
}

/// What to do if something happens.
#[derive(Debug, Clone, PartialEq, Eq, Serialize)]
pub struct IfThen {
    /// What happens: "A glass is dropped".
    pub happens: String,
    /// What is done.
    pub then: String,
}
