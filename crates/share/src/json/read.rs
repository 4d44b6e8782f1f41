//! Reads a text as a value: any text at all is read or refused, with the place of what is wrong.

use super::{Object, Value};
use quantity::text::read_decimal;
use std::fmt;

/// Most lists and objects inside one another: a deeper text is refused before it eats the stack (our choice; a job file
/// has six).
pub const DEEPEST: usize = 127;
/// Most names in one object: they are sorted one by one, which takes too long in a huge one (our choice; a job file has
/// some thirty).
pub const MOST_NAMES: usize = 4096;

/// Why a text is not JSON.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct NotJson {
    /// Line, from 1.
    pub line: usize,
    /// Byte in the line, from 1.
    pub column: usize,
    /// What is wrong there.
    pub what: &'static str,
}

impl fmt::Display for NotJson {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        let Self { line, column, what } = self;
        write!(f, "line {line}, column {column}: {what}")
    }
}

impl std::error::Error for NotJson {}

/// Reads a text that is one value. Of a name that stands twice in an object the last value counts.
///
/// # Errors
/// [`NotJson`] with the place of the first byte that cannot be right.
pub fn read(text: &str) -> Result<Value, NotJson> {
    let mut reader = Reader { text, at: 0, depth: 0 };
    let value = reader.value().and_then(|value| match reader.next() {
        None => Ok(value),
        Some(_) => Err("nothing may follow the value"),
    });
    value.map_err(|what| reader.here(what))
}

/// A value, or what is wrong with the byte at which the reader stands.
type Read<T> = Result<T, &'static str>;

struct Reader<'a> {
    text: &'a str,
    /// Bytes read so far. Always between two characters where text is taken.
    at: usize,
    /// Lists and objects round this place.
    depth: usize,
}

impl Reader<'_> {
    /// The place where the reader stands.
    fn here(&self, what: &'static str) -> NotJson {
        let before = &self.text.as_bytes()[..self.at.min(self.text.len())];
        let line = 1 + before.iter().filter(|byte| **byte == b'\n').count();
        let column = 1 + before.iter().rev().take_while(|byte| **byte != b'\n').count();
        NotJson { line, column, what }
    }

    /// The byte at which the reader stands; 0, which stands nowhere in JSON, at the end.
    fn byte(&self) -> u8 {
        self.text.as_bytes().get(self.at).copied().unwrap_or(0)
    }

    /// The next byte that is no space; `None` at the end.
    fn next(&mut self) -> Option<u8> {
        while matches!(self.byte(), b' ' | b'\n' | b'\r' | b'\t') {
            self.at += 1;
        }
        self.text.as_bytes().get(self.at).copied()
    }

    fn value(&mut self) -> Read<Value> {
        match self.next() {
            Some(b'n') => self.word("null", Value::Null),
            Some(b't') => self.word("true", Value::Bool(true)),
            Some(b'f') => self.word("false", Value::Bool(false)),
            Some(b'"') => self.string().map(Value::String),
            Some(b'[') => self.list(),
            Some(b'{') => self.object(),
            Some(b'-' | b'0'..=b'9') => self.number(),
            _ => Err("a value is expected"),
        }
    }

    fn word(&mut self, word: &str, value: Value) -> Read<Value> {
        for byte in word.bytes() {
            if self.byte() != byte {
                return Err("null, true or false is expected");
            }
            self.at += 1;
        }
        Ok(value)
    }

    fn list(&mut self) -> Read<Value> {
        let mut list = Vec::new();
        self.entries(b']', &mut |reader| {
            list.push(reader.value()?);
            Ok(())
        })?;
        Ok(Value::Array(list))
    }

    fn object(&mut self) -> Read<Value> {
        let mut object = Object::new();
        self.entries(b'}', &mut |reader| {
            if reader.next() != Some(b'"') {
                return Err("a name in quotes is expected");
            }
            if object.len() == MOST_NAMES {
                return Err("too many names in one object");
            }
            let name = reader.string()?;
            if reader.next() != Some(b':') {
                return Err("a colon is expected");
            }
            reader.at += 1;
            object.insert(&name, reader.value()?);
            Ok(())
        })?;
        Ok(Value::Object(object))
    }

    /// All that stands between an opening bracket and `close`, with a comma between every two.
    fn entries(&mut self, close: u8, entry: &mut dyn FnMut(&mut Self) -> Read<()>) -> Read<()> {
        if self.depth == DEEPEST {
            return Err("too many lists and objects inside one another");
        }
        self.depth += 1;
        self.at += 1;
        if self.next() != Some(close) {
            entry(self)?;
            while self.next() == Some(b',') {
                self.at += 1;
                entry(self)?;
            }
        }
        if self.next() != Some(close) {
            return Err("a comma or the closing bracket is expected");
        }
        self.at += 1;
        self.depth -= 1;
        Ok(())
    }

    fn number(&mut self) -> Read<Value> {
        let start = self.at;
        self.at += usize::from(self.byte() == b'-');
        if self.byte() == b'0' {
            self.at += 1;
            if self.byte().is_ascii_digit() {
                return Err("a number does not begin with two figures of which the first is 0");
            }
        } else {
            self.digits()?;
        }
        if self.byte() == b'.' {
            self.at += 1;
            self.digits()?;
        }
        if matches!(self.byte(), b'e' | b'E') {
            self.at += 1;
            self.at += usize::from(matches!(self.byte(), b'+' | b'-'));
            self.digits()?;
        }
        let number = read_decimal(&self.text[start..self.at]).unwrap_or(f64::INFINITY);
        if number.is_infinite() {
            self.at -= 1;
            return Err("the number is too large");
        }
        Ok(Value::Number(number))
    }

    /// At least one.
    fn digits(&mut self) -> Read<()> {
        if !self.byte().is_ascii_digit() {
            return Err("a figure is expected");
        }
        while self.byte().is_ascii_digit() {
            self.at += 1;
        }
        Ok(())
    }

    fn string(&mut self) -> Read<String> {
        let mut string = String::new();
        self.at += 1;
        loop {
            let rest = &self.text[self.at..];
            let plain = rest.find(|c| matches!(c, '"' | '\\' | '\0'..' ')).unwrap_or(rest.len());
            string.push_str(&rest[..plain]);
            self.at += plain;
            match self.byte() {
                b'"' => {
                    self.at += 1;
                    return Ok(string);
                }
                b'\\' => {
                    self.at += 1;
                    string.push(self.escaped()?);
                }
                _ if self.at == self.text.len() => return Err("the text ends inside quotes"),
                _ => return Err("a control character must be written as \\u and four figures"),
            }
        }
    }

    /// What stands behind a backslash.
    fn escaped(&mut self) -> Read<char> {
        let c = match self.byte() {
            byte @ (b'"' | b'\\' | b'/') => char::from(byte),
            b'b' => '\u{8}',
            b'f' => '\u{c}',
            b'n' => '\n',
            b'r' => '\r',
            b't' => '\t',
            b'u' => {
                self.at += 1;
                self.code_point()?
            }
            _ => return Err("no such character behind a backslash"),
        };
        self.at += 1;
        Ok(c)
    }

    /// The character of four figures, or of two times four (RFC 8259, section 7: a surrogate pair of UTF-16). The reader
    /// then stands on the last.
    fn code_point(&mut self) -> Read<char> {
        const NO_PAIR: &str = "half of a surrogate pair";
        let first = self.four_figures()?;
        if !(0xd800..0xdc00).contains(&first) {
            return char::from_u32(first).ok_or(NO_PAIR);
        }
        for byte in [b'\\', b'u'] {
            self.at += 1;
            if self.byte() != byte {
                return Err(NO_PAIR);
            }
        }
        self.at += 1;
        let second = self.four_figures()?;
        if !(0xdc00..0xe000).contains(&second) {
            return Err(NO_PAIR);
        }
        char::from_u32(0x1_0000 + ((first - 0xd800) << 10) + (second - 0xdc00)).ok_or(NO_PAIR)
    }

    fn four_figures(&mut self) -> Read<u32> {
        let Some(figures) = self.text.as_bytes().get(self.at..self.at + 4) else {
            self.at = self.text.len();
            return Err("the text ends inside quotes");
        };
        self.at += 3;
        let read = |number, figure: &u8| Some(number << 4 | char::from(*figure).to_digit(16)?);
        figures.iter().try_fold(0, read).ok_or("four hexadecimal figures are expected")
    }
}
