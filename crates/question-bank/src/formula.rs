//! Plain arithmetic over named numbers: + - * / ^ and parentheses, read and computed by exmex.
//!
//! The operators are our own list: functions of the machine's library may differ between machines
//! and are left out, and powers go through libm. A sign before a number is not read, since it would
//! bind closer than a power; write `0 - x`.

use std::collections::BTreeMap;
use std::sync::OnceLock;

use exmex::{BinOp, Express, FlatEx, MakeOperators, Operator};

/// The operators of a formula, by how close they bind.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord)]
struct Arithmetic;

impl MakeOperators<f64> for Arithmetic {
    fn make<'a>() -> Vec<Operator<'a, f64>> {
        let operator = |sign, prio, is_commutative, apply: fn(f64, f64) -> f64| {
            Operator::make_bin(
                sign,
                BinOp {
                    apply,
                    prio,
                    is_commutative,
                },
            )
        };
        vec![
            operator("^", 4, false, libm::pow),
            operator("/", 3, false, |a, b| a / b),
            operator("*", 2, true, |a, b| a * b),
            operator("-", 1, false, |a, b| a - b),
            operator("+", 0, true, |a, b| a + b),
        ]
    }
}

/// The longest formula, in bytes, and the deepest nesting of its parentheses.
const LONGEST: usize = 400;
const DEEPEST: usize = 20;

/// A formula that was read.
#[derive(Debug)]
pub struct Formula {
    text: String,
    names: Vec<String>,
    /// What it computes with: twenty kilobytes, so a bank keeps none of them. Made when the formula
    /// is first used, and not copied.
    read: OnceLock<Box<FlatEx<f64, Arithmetic>>>,
}

impl Clone for Formula {
    fn clone(&self) -> Self {
        Self {
            text: self.text.clone(),
            names: self.names.clone(),
            read: OnceLock::new(),
        }
    }
}

impl PartialEq for Formula {
    fn eq(&self, other: &Self) -> bool {
        self.text == other.text
    }
}

impl Formula {
    /// Reads a formula.
    ///
    /// # Errors
    /// Why it is none, in words.
    pub fn parse(text: &str) -> Result<Self, String> {
        if text.len() > LONGEST {
            return Err(format!("a formula has at most {LONGEST} letters and signs"));
        }
        let known =
            |c: char| c.is_ascii_lowercase() || c.is_ascii_digit() || " _.+-*/^()".contains(c);
        if let Some(odd) = text.chars().find(|c| !known(*c)) {
            return Err(format!("'{odd}' is no part of a formula"));
        }
        let mut depth = 0_usize;
        for c in text.chars() {
            match c {
                '(' => depth += 1,
                ')' => depth = depth.saturating_sub(1),
                _ => {}
            }
            if depth > DEEPEST {
                return Err(format!("parentheses are nested deeper than {DEEPEST}"));
            }
        }
        let read = FlatEx::<f64, Arithmetic>::parse(text).map_err(|why| why.msg().to_owned())?;
        Ok(Self {
            text: text.to_owned(),
            names: read.var_names().to_vec(),
            read: OnceLock::from(Box::new(read)),
        })
    }
    /// What it computes with.
    fn read(&self) -> Result<&FlatEx<f64, Arithmetic>, String> {
        if let Some(read) = self.read.get() {
            return Ok(read);
        }
        let read = Self::parse(&self.text)?.read.into_inner();
        let read = read.ok_or_else(|| format!("\"{}\" cannot be read", self.text))?;
        Ok(self.read.get_or_init(|| read))
    }
    /// As written.
    #[must_use]
    pub fn text(&self) -> &str {
        &self.text
    }
    /// The names it uses.
    pub fn names(&self) -> impl Iterator<Item = &str> {
        self.names.iter().map(String::as_str)
    }
    /// Its value.
    ///
    /// # Errors
    /// A name that is not given, or a value that is no finite number.
    pub fn value(&self, given: &BTreeMap<String, f64>) -> Result<f64, String> {
        let numbers: Result<Vec<f64>, String> = self
            .names()
            .map(|name| {
                let number = given.get(name).copied();
                number.ok_or_else(|| format!("\"{name}\" is not given"))
            })
            .collect();
        let value = self
            .read()?
            .eval(&numbers?)
            .map_err(|why| why.msg().to_owned())?;
        if value.is_finite() {
            Ok(value)
        } else {
            Err(format!("\"{}\" has no finite value", self.text))
        }
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn value(text: &str) -> f64 {
        let given = BTreeMap::from([
            ("volume".to_owned(), 200.0),
            ("strength_b".to_owned(), 60.0),
        ]);
        Formula::parse(text).unwrap().value(&given).unwrap()
    }

    #[test]
    fn operators_bind_as_at_school() {
        for (text, expected) in [
            ("volume * strength_b / 100", 120.0),
            ("100 - 20 - 30", 50.0),
            ("100 - 20 + 30", 110.0),
            ("10 + 2 * 3 ^ 2", 28.0),
            ("100 / 5 / 2", 10.0),
            ("100 / 5 * 2", 40.0),
            ("volume * (1 - 0.02) ^ 2", 192.08),
            ("2 * (3 + (4 - 1)) / 4", 3.0),
            (".5 * 4", 2.0),
        ] {
            assert!(
                (value(text) - expected).abs() < 1e-9,
                "{text}: {}",
                value(text)
            );
        }
    }

    #[test]
    fn what_is_no_formula_is_refused() {
        for text in [
            "", "(", "1 +", "a b", "sin(a)", "1 / 0", "PI", "a = 2", "2 ** 3", "é", "--",
        ] {
            let told = Formula::parse(text).and_then(|f| f.value(&BTreeMap::new()));
            assert!(told.is_err(), "{text}");
        }
        assert!(Formula::parse(&"(".repeat(400)).is_err());
        assert!(Formula::parse(&"1+".repeat(400)).is_err());
    }

    proptest! {
        #[test]
        fn any_text_is_read_without_panic(text in "[a-c0-9 .+*/^()-]{0,40}|.{0,20}") {
            if let Ok(formula) = Formula::parse(&text) {
                let given = formula.names().map(|n| (n.to_owned(), 2.0)).collect();
                let _ = formula.value(&given);
            }
        }
    }
}
