//! Names and their values, sorted by name.

use super::Value;

/// Names and their values, sorted by name, each name once.
///
/// A sorted list and not a tree: objects are small, and the code of a tree is not.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct Object(Vec<(String, Value)>);

impl Object {
    /// Without any name.
    #[must_use]
    pub const fn new() -> Self {
        Self(Vec::new())
    }

    /// Where the name stands, or where it would.
    fn place(&self, name: &str) -> Result<usize, usize> {
        self.0.binary_search_by(|(known, _)| known.as_str().cmp(name))
    }

    /// The value of a name.
    #[must_use]
    pub fn get(&self, name: &str) -> Option<&Value> {
        self.place(name).ok().map(|at| &self.0[at].1)
    }

    /// The value of a name, to change it.
    #[must_use]
    pub fn get_mut(&mut self, name: &str) -> Option<&mut Value> {
        self.place(name).ok().map(|at| &mut self.0[at].1)
    }

    /// Gives a name this value, in place of the one it had.
    pub fn insert(&mut self, name: &str, value: Value) {
        match self.place(name) {
            Ok(at) => self.0[at].1 = value,
            Err(at) => self.0.insert(at, (name.to_owned(), value)),
        }
    }

    /// How many names there are.
    #[must_use]
    pub fn len(&self) -> usize {
        self.0.len()
    }

    /// Whether there is no name.
    #[must_use]
    pub fn is_empty(&self) -> bool {
        self.0.is_empty()
    }

    /// Every name with its value.
    pub fn iter(&self) -> impl Iterator<Item = (&str, &Value)> {
        self.0.iter().map(|(name, value)| (name.as_str(), value))
    }
}
