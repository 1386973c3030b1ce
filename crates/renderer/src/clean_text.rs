//! What people wrote, rid of characters that no printer can show.

/// The text without control and invisible formatting characters; every line end is `\n`, a tab
/// is a space.
///
/// Direction overrides and zero-width characters are left out as well: they print nothing, and
/// two texts that look the same must be the same.
pub(crate) fn clean_text(text: &str) -> String {
    let mut clean = String::with_capacity(text.len());
    let mut characters = text.chars().peekable();
    while let Some(character) = characters.next() {
        match character {
            '\r' => {
                if characters.peek() != Some(&'\n') {
                    clean.push('\n');
                }
            }
            '\n' | '\u{85}' | '\u{2028}' | '\u{2029}' | '\u{b}' | '\u{c}' => clean.push('\n'),
            '\t' => clean.push(' '),
            other if other.is_control() || is_invisible(other) => {}
            other => clean.push(other),
        }
    }
    clean
}

/// Formatting characters without a picture (Unicode property Default_Ignorable_Code_Point and
/// the interlinear annotation marks).
fn is_invisible(character: char) -> bool {
    matches!(character,
        '\u{ad}' | '\u{34f}' | '\u{61c}' | '\u{115f}'..='\u{1160}' | '\u{17b4}'..='\u{17b5}'
        | '\u{180b}'..='\u{180f}' | '\u{200b}'..='\u{200f}' | '\u{202a}'..='\u{202e}'
        | '\u{2060}'..='\u{206f}' | '\u{3164}' | '\u{fe00}'..='\u{fe0f}' | '\u{feff}'
        | '\u{ffa0}' | '\u{fff0}'..='\u{fffb}' | '\u{1bca0}'..='\u{1bca3}'
        | '\u{1d173}'..='\u{1d17a}' | '\u{e0000}'..='\u{e0fff}')
}

#[cfg(test)]
mod tests {
    use super::clean_text;

    #[test]
    fn controls_go_and_line_ends_become_one_kind() {
        assert_eq!(
            clean_text("a\r\nb\rc\u{2028}d\te\u{0}\u{1b}[31m"),
            "a\nb\nc\nd e[31m"
        );
        assert_eq!(clean_text("no\u{202e}war\u{200b}d"), "noward");
        assert_eq!(clean_text("Übel ✓"), "Übel ✓");
    }
}
