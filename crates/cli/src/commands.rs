//! The commands, one file each.

pub(crate) mod assemble;
pub(crate) mod bank;
pub(crate) mod check;
pub(crate) mod completions;
pub(crate) mod mark;
pub(crate) mod pour;
pub(crate) mod practise;
pub(crate) mod print;
pub(crate) mod rehearse;
pub(crate) mod results;
pub(crate) mod verify;

use crate::talk::Talk;

/// Writes a report as JSON to standard output.
fn json(talk: &Talk, report: &impl workflow::Serialize) -> anyhow::Result<()> {
    talk.data(&serde_json::to_string_pretty(report)?);
    Ok(())
}
