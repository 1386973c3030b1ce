//! The schemas that editors read: made from the readers, held against them, tried in an editor's
//! language server.
// A test may stop at the first surprise: these lints guard the program, not its checks.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    missing_docs,
    unreachable_pub
)]

mod broken;
mod format;
mod json_schema;
mod language_server;
mod shipped;
mod validator;
