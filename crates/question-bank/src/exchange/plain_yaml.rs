//! Words as YAML, in the plain style where that is safe.

/// A text as a YAML scalar: bare where no reader could take it for anything else, else in double
/// quotes.
pub(super) fn scalar(text: &str) -> String {
    let safe = |c: char| c.is_ascii_alphanumeric() || " -_./()%".contains(c);
    let word = ["true", "false", "null", "yes", "no", "on", "off", "y", "n"];
    let bare = text.starts_with(|c: char| c.is_ascii_alphabetic())
        && text.chars().all(safe)
        && !text.ends_with(' ')
        && text.len() <= 80
        && !word.contains(&text.to_ascii_lowercase().as_str());
    if bare { text.to_owned() } else { quoted(text) }
}

/// A text in double quotes.
fn quoted(text: &str) -> String {
    let mut out = String::from("\"");
    for c in text.chars() {
        match c {
            '"' => out.push_str("\\\""),
            '\\' => out.push_str("\\\\"),
            '\n' => out.push_str("\\n"),
            '\t' => out.push_str("\\t"),
            '\r' => out.push_str("\\r"),
            c if c.is_control() || ('\u{2028}'..='\u{2029}').contains(&c) || c == '\u{feff}' => {
                out.push_str(&format!("\\U{:08X}", u32::from(c)));
            }
            c => out.push(c),
        }
    }
    out.push('"');
    out
}
