//! Where the project lies, and what its own files say about versions.

use std::{
    env, fs,
    path::{Path, PathBuf},
};

use crate::{failure::Failure, versions};

/// The checkout that `cargo xtask` was started in.
#[derive(Debug)]
pub(crate) struct Project {
    root: PathBuf,
}

impl Project {
    /// Finds the root through the folder cargo names to the program it runs, so a moved clone still works.
    ///
    /// # Errors
    /// If the program was not started by cargo.
    pub(crate) fn find() -> Result<Self, Failure> {
        env::var_os("CARGO_MANIFEST_DIR")
            .and_then(|crate_dir| Path::new(&crate_dir).ancestors().nth(2).map(Path::to_path_buf))
            .map(|root| Self { root })
            .ok_or_else(|| Failure::new("not started by cargo").remedy("type: cargo xtask help"))
    }

    pub(crate) fn root(&self) -> &Path {
        &self.root
    }

    /// A path below the root.
    pub(crate) fn path(&self, below: &str) -> PathBuf {
        self.root.join(below)
    }

    /// The version of a crate that Cargo.lock fixes.
    ///
    /// # Errors
    /// If the lock cannot be read or lacks the crate.
    pub(crate) fn locked_crate(&self, name: &str) -> Result<String, Failure> {
        self.stated("Cargo.lock", name, versions::locked_crate)
    }

    /// The version of an npm package that a package.json of ours asks for.
    ///
    /// # Errors
    /// If the file cannot be read or lacks the package.
    pub(crate) fn npm_package(&self, manifest: &str, name: &str) -> Result<String, Failure> {
        self.stated(manifest, name, versions::npm_package)
    }

    fn stated(&self, file: &str, name: &str, reader: fn(&str, &str) -> Option<String>) -> Result<String, Failure> {
        let text = fs::read_to_string(self.path(file)).map_err(Failure::io(format!("reading {file}")))?;
        reader(&text, name).ok_or_else(|| Failure::new(format!("{file} names no version of {name}")))
    }
}
