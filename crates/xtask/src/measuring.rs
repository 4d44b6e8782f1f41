//! Finishes the page that says how to measure: it looks as the start page does, and runs a script only with its digest.

use std::{fs, path::Path};

use crate::{
    failure::Failure,
    project::Project,
    slim::{digest, without_comments},
};

/// The page among the built files, and its script; it names its script and the style as here, for want of their digests.
const PAGE: &str = "dist/measuring.html";
const SCRIPT: &str = "tilt.js";
const STYLE_LINK: &str = "<link rel=\"stylesheet\" href=\"style.css\">";
const SCRIPT_TAG: &str = "<script type=\"module\" src=\"tilt.js\">";

/// Puts the script beside the built page, and the style of the `start` page into it.
///
/// # Errors
/// If a file cannot be read or written, or does not name style and script as it should.
pub(crate) fn finish(project: &Project, start: &str) -> Result<(), Failure> {
    let read = |path: &Path| fs::read_to_string(path).map_err(Failure::io(path.display()));
    let write = |path: &Path, text: String| fs::write(path, text).map_err(Failure::io(path.display()));
    let page = project.path(PAGE);
    let script = without_comments(&read(&project.path("web/tilt.js"))?).map_err(Failure::new)?;
    write(&page, finished(&read(&page)?, start, &script)?)?;
    write(&page.with_file_name(SCRIPT), script)
}

/// The page with the style link of the start page, digest and all, and the digest of its script.
fn finished(page: &str, start: &str, script: &str) -> Result<String, Failure> {
    let style = start
        .split_inclusive('>')
        .map(str::trim_start)
        .find(|tag| tag.starts_with("<link rel=\"stylesheet\""))
        .ok_or_else(|| Failure::new("dist/index.html: no style"))?;
    if [STYLE_LINK, SCRIPT_TAG].iter().any(|tag| page.matches(tag).count() != 1) {
        return Err(Failure::new(format!("{PAGE}: not one {STYLE_LINK} and one {SCRIPT_TAG}")));
    }
    let checked = SCRIPT_TAG.replace('>', &format!(" integrity=\"{}\">", digest(script)));
    Ok(page.replace(STYLE_LINK, style).replace(SCRIPT_TAG, &checked))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn style_and_script_are_those_that_were_built() {
        let start = "<html>\n<link rel=\"stylesheet\" href=\"./style-1.css\" integrity=\"d\"/>\n<link rel=\"icon\">";
        let page = format!("<title>x</title>{STYLE_LINK}\n{SCRIPT_TAG}</script>");
        let built = finished(&page, start, "abc").unwrap();
        // Reference: FIPS 180-2, appendix D.1, the SHA-384 digest of "abc", in base64.
        let digest = "sha384-ywB1P0WjXou1oD1pmsZQBycsMqsO3tFjGotgWkP/W+2AhgcroefMI1i67KE0yCWn";
        let script = format!("<script type=\"module\" src=\"tilt.js\" integrity=\"{digest}\">");
        let style = "<link rel=\"stylesheet\" href=\"./style-1.css\" integrity=\"d\"/>";
        assert_eq!(built, format!("<title>x</title>{style}\n{script}</script>"));
        for (page, start) in [(page.as_str(), "<html>"), ("<title>x</title>", start), (&page.repeat(2), start)] {
            assert!(finished(page, start, "abc").is_err(), "{page}");
        }
    }

    #[test]
    fn the_page_names_its_style_and_script_so() {
        let page = include_str!("../../../web/public/measuring.html");
        assert!(finished(page, "<link rel=\"stylesheet\" href=\"a.css\">", "").is_ok());
    }
}
