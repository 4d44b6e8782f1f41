//! JSON (RFC 8259): a value, read from a text and written to one.
//!
//! Of our own: a general library with its tables for numbers made the page's download 30 kB larger. It is tried against
//! one in `tests/src/json.rs`.
//!
//! ```
//! use share::json::{Value, read};
//!
//! let mut end = read(r#" {"points": [1, 0, 0], "bead_mm": null} "#)?;
//! assert_eq!(end.pointer("/points/0"), Some(&Value::Number(1.0)));
//! if let Value::Object(fields) = &mut end {
//!     fields.insert("bead_mm", 17.2.into());
//! }
//! assert_eq!(end.to_string(), r#"{"bead_mm":17.2,"points":[1,0,0]}"#);
//! # Ok::<(), share::json::NotJson>(())
//! ```

mod object;
mod read;
mod write;

pub use object::Object;
pub use read::{DEEPEST, MOST_NAMES, NotJson, read};

/// A JSON value.
#[derive(Clone, Debug, Default, PartialEq)]
pub enum Value {
    /// `null`
    #[default]
    Null,
    /// `true` or `false`
    Bool(bool),
    /// A number; always finite if it was read or came from [`Value::from`].
    Number(f64),
    /// A text.
    String(String),
    /// A list.
    Array(Vec<Self>),
    /// Names and their values.
    Object(Object),
}

impl Value {
    /// An object of these names.
    #[must_use]
    pub fn object<const N: usize>(fields: [(&str, Self); N]) -> Self {
        let mut object = Object::default();
        for (name, value) in fields {
            object.insert(name, value);
        }
        Self::Object(object)
    }

    /// Whether it is null.
    #[must_use]
    pub fn is_null(&self) -> bool {
        matches!(self, Self::Null)
    }

    /// The truth value, if it is one.
    #[must_use]
    pub fn as_bool(&self) -> Option<bool> {
        if let Self::Bool(yes) = self { Some(*yes) } else { None }
    }

    /// The number, if it is one.
    #[must_use]
    pub fn as_f64(&self) -> Option<f64> {
        if let Self::Number(number) = self { Some(*number) } else { None }
    }

    /// The number, if it is a whole one from 0 that a `u64` holds.
    #[must_use]
    pub fn as_u64(&self) -> Option<u64> {
        const TOO_LARGE: f64 = 18_446_744_073_709_551_616.0;
        let number = self.as_f64().filter(|number| (0.0..TOO_LARGE).contains(number) && number.fract() == 0.0)?;
        #[expect(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "whole, from 0, not too large")]
        Some(number as u64)
    }

    /// The text, if it is one.
    #[must_use]
    pub fn as_str(&self) -> Option<&str> {
        if let Self::String(text) = self { Some(text) } else { None }
    }

    /// The list, if it is one.
    #[must_use]
    pub fn as_array(&self) -> Option<&[Self]> {
        if let Self::Array(list) = self { Some(list) } else { None }
    }

    /// The list, if it is one.
    #[must_use]
    pub fn as_array_mut(&mut self) -> Option<&mut Vec<Self>> {
        if let Self::Array(list) = self { Some(list) } else { None }
    }

    /// The object, if it is one.
    #[must_use]
    pub fn as_object(&self) -> Option<&Object> {
        if let Self::Object(object) = self { Some(object) } else { None }
    }

    /// The value of this name, if there is one.
    #[must_use]
    pub fn get(&self, name: &str) -> Option<&Self> {
        self.as_object()?.get(name)
    }

    /// What stands at a JSON pointer (RFC 6901), as `/runs/0/name`. Names with `/` or `~` in them cannot be pointed at.
    #[must_use]
    pub fn pointer(&self, at: &str) -> Option<&Self> {
        at.split('/').skip(1).try_fold(self, |value, step| match value {
            Self::Object(object) => object.get(step),
            Self::Array(list) => list.get(step.parse::<usize>().ok()?),
            _ => None,
        })
    }

    /// As [`Value::pointer`], to change it.
    #[must_use]
    pub fn pointer_mut(&mut self, at: &str) -> Option<&mut Self> {
        at.split('/').skip(1).try_fold(self, |value, step| match value {
            Self::Object(object) => object.get_mut(step),
            Self::Array(list) => list.get_mut(step.parse::<usize>().ok()?),
            _ => None,
        })
    }
}

impl From<bool> for Value {
    fn from(yes: bool) -> Self {
        Self::Bool(yes)
    }
}

/// JSON has no infinity and no "not a number": they become null.
impl From<f64> for Value {
    fn from(number: f64) -> Self {
        if number.is_finite() { Self::Number(number) } else { Self::Null }
    }
}

impl From<&str> for Value {
    fn from(text: &str) -> Self {
        Self::String(text.to_owned())
    }
}

impl From<String> for Value {
    fn from(text: String) -> Self {
        Self::String(text)
    }
}

impl<T: Into<Self>> From<Option<T>> for Value {
    fn from(value: Option<T>) -> Self {
        value.map_or(Self::Null, T::into)
    }
}

impl<T: Into<Self>, const N: usize> From<[T; N]> for Value {
    fn from(list: [T; N]) -> Self {
        Self::Array(list.into_iter().map(T::into).collect())
    }
}
