//! Stamps the service worker: which files the page consists of, the digest of each, one version over them all, and its one
//! sentence in other languages.

use std::{fmt::Write, fs, path::Path};

use base64::{Engine, prelude::BASE64_STANDARD};
use sha2::{Digest, Sha256};

use crate::{failure::Failure, slim::without_comments};

/// The name of the service worker among the built files.
pub(crate) const NAME: &str = "sw.js";

/// Writes the service worker for the built `files` into `dist`, from its `template` without its lines of comment.
///
/// # Errors
/// If a file cannot be read or written.
pub(crate) fn stamp(template: &Path, dist: &Path, files: &[impl AsRef<Path>]) -> Result<(), Failure> {
    let text = fs::read_to_string(template).map_err(Failure::io(template.display()))?;
    let text = without_comments(&text).map_err(Failure::new)?;
    let mut kept = Vec::new();
    for file in files.iter().map(AsRef::as_ref) {
        let name = address(file.strip_prefix(dist).unwrap_or(file));
        if name != NAME {
            kept.push((name, fs::read(file).map_err(Failure::io(file.display()))?));
        }
    }
    fs::write(dist.join(NAME), stamped(&text, &kept)).map_err(Failure::io(NAME))
}

/// Where the page finds a file, seen from its own folder. The start page is `./`: many hosts answer its file name with
/// a redirect, which a service worker must not pass on.
fn address(below_dist: &Path) -> String {
    let parts: Vec<_> = below_dist.iter().map(|part| part.to_string_lossy()).collect();
    match parts.join("/") {
        start if start == "index.html" => "./".to_owned(),
        other => other,
    }
}

/// The template behind the constants it speaks of. The version is taken over the template too: a changed service
/// worker is a new version even when no file changed.
fn stamped(template: &str, files: &[(String, Vec<u8>)]) -> String {
    let mut list = String::from("const FILES = [\n");
    for (address, content) in files {
        let digest = BASE64_STANDARD.encode(Sha256::digest(content));
        writeln!(list, "  [{address:?}, 'sha256-{digest}'],").expect("a String takes any text");
    }
    list.push_str("];\nconst SAID = [\n");
    for (address, content) in files {
        let language = address.strip_prefix("words/").and_then(|name| name.strip_suffix(".po"));
        if let Some((language, said)) = language.and_then(|language| Some((language, said(template, content)?))) {
            writeln!(list, "  ['{language}', {said}],").expect("a String takes any text");
        }
    }
    list.push_str("];\n");
    let version: String =
        Sha256::digest(format!("{list}{template}")).iter().take(8).map(|byte| format!("{byte:02x}")).collect();
    format!("const VERSION = '{version}';\n{list}{template}")
}

/// What the template says, in the words of a language: as its catalogue has it, a string in quotes.
fn said<'a>(template: &str, catalogue: &'a [u8]) -> Option<&'a str> {
    let gone = template.split_once("const GONE = '")?.1.split_once("';")?.0;
    let catalogue = std::str::from_utf8(catalogue).ok()?;
    Some(catalogue.split_once(&format!("msgid \"{gone}\"\nmsgstr "))?.1.lines().next()?.trim_end())
}

#[cfg(test)]
mod tests {
    use super::*;

    fn of(template: &str, files: &[(&str, &str)]) -> String {
        let files: Vec<_> = files.iter().map(|(name, text)| ((*name).to_owned(), text.as_bytes().to_vec())).collect();
        stamped(template, &files)
    }

    fn version(stamped: &str) -> &str {
        stamped.lines().next().unwrap()
    }

    /// Reference: FIPS 180-2, appendix B.1, the digest of "abc", written in the base64 of RFC 4648 as Subresource
    /// Integrity asks.
    #[test]
    fn a_file_is_listed_with_its_digest() {
        let line = "[\"a/b.txt\", 'sha256-ungWv48Bz+pBQUDeXa4iI7ADYaOWF3qctBD/YfIAFa0='],";
        assert!(of("", &[("a/b.txt", "abc")]).contains(line), "{}", of("", &[("a/b.txt", "abc")]));
    }

    #[test]
    fn the_version_follows_every_content_name_and_the_template_and_nothing_else() {
        let first = of("sw", &[("a", "1"), ("b", "2")]);
        assert_eq!(first, of("sw", &[("a", "1"), ("b", "2")]), "the same files");
        for (what, other) in [
            ("a content under the same name", of("sw", &[("a", "1"), ("b", "3")])),
            ("contents exchanged", of("sw", &[("a", "2"), ("b", "1")])),
            ("a name", of("sw", &[("a", "1"), ("c", "2")])),
            ("one file less", of("sw", &[("a", "1")])),
            ("the template", of("sw2", &[("a", "1"), ("b", "2")])),
        ] {
            assert_ne!(version(&first), version(&other), "{what}");
        }
    }

    #[test]
    fn what_it_says_stands_there_in_every_language_that_has_it() {
        let template = "const GONE = 'All is gone.';\n";
        let catalogue = "msgid \"Other\"\nmsgstr \"x\"\n\nmsgid \"All is gone.\"\nmsgstr \"Alles „weg“.\"\n";
        let said = of(template, &[("words/de.po", catalogue), ("words/es.po", ""), ("words/words.js", catalogue)]);
        assert!(said.contains("const SAID = [\n  ['de', \"Alles „weg“.\"],\n];\n"), "{said}");
    }

    #[test]
    fn the_start_page_is_the_folder_and_others_keep_their_names() {
        assert_eq!(address(Path::new("index.html")), "./");
        assert_eq!(address(&Path::new("deeper").join("index.html")), "deeper/index.html");
    }

    #[test]
    fn every_built_file_is_kept_but_not_the_service_worker_itself() {
        let dist = std::env::temp_dir().join(format!("hosewright-stamp-{}", std::process::id()));
        fs::create_dir_all(&dist).unwrap();
        let files: Vec<_> = ["icon.svg", "index.html", NAME].map(|name| dist.join(name)).into();
        for file in &files {
            fs::write(file, "x").unwrap();
        }
        let template = dist.join("template");
        fs::write(&template, "// the worker\n\n/** Told. */\n  work(); // here\n").unwrap();
        stamp(&template, &dist, &files).unwrap();
        let written = fs::read_to_string(dist.join(NAME)).unwrap();
        fs::remove_dir_all(&dist).unwrap();
        let listed: Vec<_> = written.lines().filter_map(|line| line.strip_prefix("  [\"")?.split('"').next()).collect();
        assert_eq!(listed, ["icon.svg", "./"]);
        assert!(written.ends_with("];\nwork(); // here\n"), "{written}");
    }
}
