//! The commands, one file each.

mod acting;
pub(crate) mod analyse;
pub(crate) mod assemble;
pub(crate) mod bank;
pub(crate) mod check;
pub(crate) mod completions;
pub(crate) mod cut;
pub(crate) mod dilute;
pub(crate) mod equate;
pub(crate) mod mark;
pub(crate) mod moderate;
mod naming;
pub(crate) mod panel;
mod person;
pub(crate) mod pour;
pub(crate) mod practise;
pub(crate) mod print;
pub(crate) mod rehearse;
pub(crate) mod results;
pub(crate) mod seal;
pub(crate) mod verify;

use crate::talk::Talk;

/// Writes a report as JSON to standard output.
fn json(talk: &Talk, report: &impl workflow::Serialize) -> anyhow::Result<()> {
    talk.data(&serde_json::to_string_pretty(report)?);
    Ok(())
}
