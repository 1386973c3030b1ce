//! How well a figure of this room is vouched for.

/// What stands behind a definition. It is printed beside the figure.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, serde::Serialize)]
#[serde(rename_all = "kebab-case")]
pub enum Evidence {
    /// The law or standard itself was read.
    SourceRead,
    /// A page that repeats the definition was read, not the law.
    SecondaryPageRead,
    /// From memory: look it up before relying on it.
    FromMemory,
}
