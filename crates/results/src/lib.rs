//! Marks make decisions, report contents, analysis and the rehearsal.
