//! Takes out of the built scripts and styles what no browser reads: comments, empty lines and what lines are set in by.

use std::{fs, path::Path};

use base64::{Engine, prelude::BASE64_STANDARD};
use sha2::{Digest, Sha384};

use crate::failure::Failure;

/// Slims the scripts and styles among the built `files`, and writes their new digests into the start page in `html`.
///
/// # Errors
/// If a file cannot be read or written, has a comment this does not understand, or has no digest in the start page.
pub(crate) fn slim(files: &[impl AsRef<Path>], mut html: String) -> Result<String, Failure> {
    let is_text = |file: &Path| file.extension().is_some_and(|kind| kind == "js" || kind == "css");
    for file in files.iter().map(AsRef::as_ref).filter(|file| is_text(file)) {
        let text = fs::read_to_string(file).map_err(Failure::io(file.display()))?;
        let slimmed = without_comments(&text).map_err(|line| Failure::new(format!("{}: {line}", file.display())))?;
        let before = digest(&text);
        if html.matches(&before).count() != 1 {
            return Err(Failure::new(format!("dist/index.html: not one digest of {}", file.display())));
        }
        html = html.replace(&before, &digest(&slimmed));
        fs::write(file, slimmed).map_err(Failure::io(file.display()))?;
    }
    Ok(html)
}

/// As Trunk writes it for Subresource Integrity.
pub(crate) fn digest(text: &str) -> String {
    format!("sha384-{}", BASE64_STANDARD.encode(Sha384::digest(text)))
}

/// A script or style without the lines that are comments alone. Words that run over several lines must not be set in.
///
/// # Errors
/// The line, if a comment ends before the line does.
pub(crate) fn without_comments(text: &str) -> Result<String, String> {
    let (mut slimmed, mut in_comment) = (String::new(), false);
    for line in text.lines().map(str::trim) {
        in_comment |= line.starts_with("/*");
        if in_comment {
            if let Some((_, rest)) = line.split_once("*/") {
                if !rest.is_empty() {
                    return Err(format!("a comment with something behind it: {line}"));
                }
                in_comment = false;
            }
        } else if !line.is_empty() && !line.starts_with("//") {
            slimmed.push_str(line);
            slimmed.push('\n');
        }
    }
    Ok(slimmed)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn comments_go_and_what_is_run_stays() {
        let script =
            "// told\n\n/** Told. */\nfn(); // here\n/**\n * More.\n */\n  const url = 'http://x'; /* and here */\n";
        assert_eq!(without_comments(script).unwrap(), "fn(); // here\nconst url = 'http://x'; /* and here */\n");
        assert!(without_comments("/* told */ fn();").is_err());
        assert!(without_comments("/*\n told */ fn();").is_err());
    }

    #[test]
    fn the_start_page_gets_the_new_digest_and_only_scripts_and_styles_change() {
        let folder = std::env::temp_dir().join(format!("hosewright-slim-{}", std::process::id()));
        fs::create_dir_all(&folder).unwrap();
        let files = ["a.js", "b.css", "c.svg"].map(|name| folder.join(name));
        let texts = ["// told\n  run();\n", "/* told */\na { b: c }\n", "<!-- told -->\n"];
        for (file, text) in files.iter().zip(texts) {
            fs::write(file, text).unwrap();
        }
        let html = format!("{} {}", digest(texts[0]), digest(texts[1]));
        let slimmed = slim(&files, html.clone());
        let again = slim(&files, "no digest".to_owned());
        let now = files.each_ref().map(|file| fs::read_to_string(file).unwrap());
        fs::remove_dir_all(&folder).unwrap();
        assert_eq!(now, ["run();\n", "a { b: c }\n", "<!-- told -->\n"]);
        assert_eq!(slimmed.unwrap(), format!("{} {}", digest(&now[0]), digest(&now[1])));
        assert!(again.is_err(), "a file that the start page does not check");
    }

    /// Reference: FIPS 180-2, appendix D.1, the SHA-384 digest of "abc".
    #[test]
    fn digests_are_those_of_subresource_integrity() {
        assert_eq!(digest("abc"), "sha384-ywB1P0WjXou1oD1pmsZQBycsMqsO3tFjGotgWkP/W+2AhgcroefMI1i67KE0yCWn");
    }
}
