//! The drawing sheet: lengths in units of the picture, text escaped, numbers short.

use std::fmt::Write as _;

/// Width of every picture, in its units; a line of text is 13 high.
pub(super) const WIDTH: f64 = 640.0;

/// Where text stands at its point.
#[derive(Clone, Copy)]
pub(super) enum Anchor {
    Start,
    Middle,
    End,
}

/// An SVG under drawing.
pub(super) struct Canvas {
    height: f64,
    body: String,
}

impl Canvas {
    pub(super) fn new(height: f64) -> Self {
        Self {
            height,
            body: String::new(),
        }
    }

    pub(super) fn rectangle(&mut self, x: f64, y: f64, width: f64, height: f64, class: &str) {
        let (x, y, width, height) = (n(x), n(y), n(width.max(0.0)), n(height.max(0.0)));
        // Writing to a string cannot fail, here and below.
        let _ = writeln!(
            self.body,
            "<rect class=\"{class}\" x=\"{x}\" y=\"{y}\" width=\"{width}\" height=\"{height}\"/>"
        );
    }

    /// A rectangle of the accent, as opaque as the share.
    pub(super) fn shade(&mut self, x: f64, y: f64, width: f64, height: f64, share: f64) {
        let _ = writeln!(
            self.body,
            "<rect class=\"shade\" fill-opacity=\"{}\" x=\"{}\" y=\"{}\" width=\"{}\" height=\"{}\"/>",
            n(share.clamp(0.0, 1.0)),
            n(x),
            n(y),
            n(width),
            n(height)
        );
    }

    pub(super) fn line(&mut self, from: (f64, f64), to: (f64, f64), class: &str) {
        let _ = writeln!(
            self.body,
            "<line class=\"{class}\" x1=\"{}\" y1=\"{}\" x2=\"{}\" y2=\"{}\"/>",
            n(from.0),
            n(from.1),
            n(to.0),
            n(to.1)
        );
    }

    pub(super) fn path(&mut self, points: &[(f64, f64)], class: &str) {
        let mut list = String::new();
        for (x, y) in points {
            let _ = write!(list, "{},{} ", n(*x), n(*y));
        }
        let _ = writeln!(
            self.body,
            "<polyline class=\"{class}\" points=\"{}\"/>",
            list.trim_end()
        );
    }

    pub(super) fn dot(&mut self, at: (f64, f64), radius: f64, class: &str) {
        let _ = writeln!(
            self.body,
            "<circle class=\"{class}\" cx=\"{}\" cy=\"{}\" r=\"{}\"/>",
            n(at.0),
            n(at.1),
            n(radius)
        );
    }

    pub(super) fn text(&mut self, at: (f64, f64), anchor: Anchor, words: &str) {
        let anchor = match anchor {
            Anchor::Start => "start",
            Anchor::Middle => "middle",
            Anchor::End => "end",
        };
        let _ = writeln!(
            self.body,
            "<text x=\"{}\" y=\"{}\" text-anchor=\"{anchor}\">{}</text>",
            n(at.0),
            n(at.1),
            escaped(words)
        );
    }

    pub(super) fn finish(self, name: &str, title: &str, sentence: &str) -> String {
        let name: String = name
            .chars()
            .map(|c| if c.is_ascii_alphanumeric() { c } else { '-' })
            .collect();
        format!(
            "<svg class=\"plot\" role=\"img\" viewBox=\"0 0 {} {}\" aria-labelledby=\"{name}-title {name}-says\">\n\
             <title id=\"{name}-title\">{}</title>\n<desc id=\"{name}-says\">{}</desc>\n{}</svg>\n",
            n(WIDTH),
            n(self.height),
            escaped(title),
            escaped(sentence),
            self.body
        )
    }
}

/// A length with one decimal; what is no number is 0.
fn n(value: f64) -> String {
    if !value.is_finite() {
        return "0".to_owned();
    }
    let text = format!("{value:.2}");
    let text = text.trim_end_matches('0').trim_end_matches('.');
    if text == "-0" {
        "0".to_owned()
    } else {
        text.to_owned()
    }
}

/// Text that can become neither an element nor an attribute.
pub(super) fn escaped(words: &str) -> String {
    let mut text = String::with_capacity(words.len());
    for c in words.chars() {
        match c {
            '&' => text.push_str("&amp;"),
            '<' => text.push_str("&lt;"),
            '>' => text.push_str("&gt;"),
            '"' => text.push_str("&quot;"),
            '\'' => text.push_str("&#39;"),
            c if c.is_control() => text.push(' '),
            c => text.push(c),
        }
    }
    text
}

/// A straight scale from values to places on the picture.
#[derive(Clone, Copy)]
pub(super) struct Scale {
    low: f64,
    high: f64,
    from: f64,
    to: f64,
}

impl Scale {
    /// Values from `low` to `high` between the places `from` and `to`; equal ends are parted.
    pub(super) fn new(low: f64, high: f64, from: f64, to: f64) -> Self {
        let high = if high > low { high } else { low + 1.0 };
        Self {
            low,
            high,
            from,
            to,
        }
    }

    pub(super) fn at(self, value: f64) -> f64 {
        self.from + (value - self.low) / (self.high - self.low) * (self.to - self.from)
    }

    /// Round values to write along the scale, about `number` of them.
    pub(super) fn marks(self, number: usize) -> Vec<f64> {
        let rough = (self.high - self.low) / number.max(1) as f64;
        let mut step = 1e-6;
        // 1, 2, 5, 10, 20, 50 and so on, up to the first that is wide enough.
        let mut turn = 0;
        while step < rough && step < 1e9 {
            step *= if turn % 3 == 1 { 2.5 } else { 2.0 };
            turn += 1;
        }
        let first = (self.low / step).ceil();
        let last = (self.high / step + 1e-9).floor();
        let mut marks = Vec::new();
        let mut at = first;
        while at <= last && marks.len() < 100 {
            marks.push(at * step);
            at += 1.0;
        }
        marks
    }
}

/// A number as it is written along a scale.
pub(super) fn label(value: f64) -> String {
    n((value * 100.0).round() / 100.0).replace('-', "\u{2212}")
}

/// A name, cut where it would run into its neighbour.
pub(super) fn cut(name: &str, longest: usize) -> String {
    if name.chars().count() <= longest {
        name.to_owned()
    } else {
        name.chars()
            .take(longest.saturating_sub(1))
            .chain(['…'])
            .collect()
    }
}

/// A name with its middle left out where it is too long, since names of one sample begin alike and
/// differ at the end.
pub(super) fn without_middle(name: &str, longest: usize) -> String {
    let letters: Vec<char> = name.chars().collect();
    if letters.len() <= longest {
        return name.to_owned();
    }
    let kept = longest.saturating_sub(1);
    let first = kept.div_ceil(2);
    let last = letters.len() - (kept - first);
    letters
        .iter()
        .take(first)
        .chain(['…'].iter())
        .chain(letters.iter().skip(last))
        .collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_long_name_keeps_both_ends() {
        assert_eq!(without_middle("oak-and-peat nose", 20), "oak-and-peat nose");
        let made = without_middle("calvados-herisson-8 quality", 22);
        assert_eq!(made, "calvados-he…-8 quality");
        assert_eq!(made.chars().count(), 22);
        assert_eq!(without_middle("ab", 0), "…");
    }

    #[test]
    fn round_values_lie_on_the_scale() {
        assert_eq!(
            Scale::new(0.0, 40.0, 0.0, 1.0).marks(8),
            [0.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0, 40.0]
        );
        assert_eq!(Scale::new(0.0, 1.0, 0.0, 1.0).marks(4).len(), 3);
        assert_eq!(Scale::new(3.0, 3.0, 0.0, 10.0).at(3.0), 0.0);
    }

    #[test]
    fn what_is_no_number_is_not_written() {
        assert_eq!(
            (n(f64::NAN), n(-0.001), n(1.50)),
            ("0".to_owned(), "0".to_owned(), "1.5".to_owned())
        );
        assert_eq!(escaped("a<b>\"&'\n"), "a&lt;b&gt;&quot;&amp;&#39; ");
    }
}
