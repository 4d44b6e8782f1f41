//! Writes a value as a text without spaces.

use super::Value;
use std::fmt::{self, Display, Formatter, Write};

/// As JSON, without spaces.
impl Display for Value {
    fn fmt(&self, to: &mut Formatter<'_>) -> fmt::Result {
        match self {
            Self::Null => to.write_str("null"),
            Self::Bool(yes) => to.write_str(if *yes { "true" } else { "false" }),
            Self::Number(number) => write_number(*number, to),
            Self::String(text) => write_text(text, to),
            Self::Array(list) => {
                to.write_char('[')?;
                for (i, value) in list.iter().enumerate() {
                    to.write_str(if i > 0 { "," } else { "" })?;
                    value.fmt(to)?;
                }
                to.write_char(']')
            }
            Self::Object(object) => {
                to.write_char('{')?;
                for (i, (name, value)) in object.iter().enumerate() {
                    to.write_str(if i > 0 { "," } else { "" })?;
                    write_text(name, to)?;
                    to.write_char(':')?;
                    value.fmt(to)?;
                }
                to.write_char('}')
            }
        }
    }
}

/// With the fewest digits that read back to the last bit: 16, 0.1, 1e300.
fn write_number(number: f64, to: &mut Formatter<'_>) -> fmt::Result {
    let digits = format!("{number:?}");
    to.write_str(digits.strip_suffix(".0").unwrap_or(&digits))
}

fn write_text(text: &str, to: &mut Formatter<'_>) -> fmt::Result {
    to.write_char('"')?;
    for c in text.chars() {
        match c {
            '"' => to.write_str("\\\"")?,
            '\\' => to.write_str("\\\\")?,
            '\n' => to.write_str("\\n")?,
            '\r' => to.write_str("\\r")?,
            '\t' => to.write_str("\\t")?,
            '\0'..' ' => write!(to, "\\u{:04x}", u32::from(c))?,
            _ => to.write_char(c)?,
        }
    }
    to.write_char('"')
}
