//! Finishes the pages that stand beside the start page and are only read: they look as that one does, and run scripts only with
//! their digests.

use std::{fs, path::Path};

use crate::{
    failure::Failure,
    project::Project,
    slim::{digest, without_comments},
};

/// The pages among the built files, and their scripts; they name them and the style as here, for want of their digests.
const PAGES: [(&str, &[&str]); 2] =
    [("dist/measuring.html", &["page.js", "tilt.js"]), ("dist/how-good.html", &["page.js"])];
const STYLE_LINK: &str = "<link rel=\"stylesheet\" href=\"style.css\">";

/// Puts the scripts beside the built pages, and the style of the `start` page into them.
///
/// # Errors
/// If a file cannot be read or written, or does not name style and scripts as it should.
pub(crate) fn finish(project: &Project, start: &str) -> Result<(), Failure> {
    let read = |path: &Path| fs::read_to_string(path).map_err(Failure::io(path.display()));
    let write = |path: &Path, text: &str| fs::write(path, text).map_err(Failure::io(path.display()));
    for (page, names) in PAGES {
        let path = project.path(page);
        let mut scripts = Vec::new();
        for name in names {
            let script = without_comments(&read(&project.path(&format!("web/{name}")))?).map_err(Failure::new)?;
            write(&path.with_file_name(name), &script)?;
            scripts.push((*name, script));
        }
        let html = finished(&read(&path)?, start, &scripts).map_err(|what| Failure::new(format!("{page}: {what}")))?;
        write(&path, &html)?;
    }
    Ok(())
}

/// How a page names a script.
fn tag(script: &str) -> String {
    format!("<script type=\"module\" src=\"{script}\">")
}

/// The page with the style link of the start page, digest and all, and the digests of its scripts; or what it should name once.
fn finished(page: &str, start: &str, scripts: &[(&str, String)]) -> Result<String, String> {
    let style = start
        .split_inclusive('>')
        .map(str::trim_start)
        .find(|tag| tag.starts_with("<link rel=\"stylesheet\""))
        .ok_or("no style in dist/index.html")?;
    let mut html = page.to_owned();
    let mut put = |known: &str, now: &str| match html.matches(known).count() {
        1 => {
            html = html.replace(known, now);
            Ok(())
        }
        _ => Err(format!("not one {known}")),
    };
    put(STYLE_LINK, style)?;
    for (name, script) in scripts {
        put(&tag(name), &tag(name).replace('>', &format!(" integrity=\"{}\">", digest(script))))?;
    }
    Ok(html)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn style_and_script_are_those_that_were_built() {
        let start = "<html>\n<link rel=\"stylesheet\" href=\"./style-1.css\" integrity=\"d\"/>\n<link rel=\"icon\">";
        let page = format!("<title>x</title>{STYLE_LINK}\n{}</script>", tag("tilt.js"));
        let scripts = [("tilt.js", "abc".to_owned())];
        let built = finished(&page, start, &scripts).unwrap();
        // Reference: FIPS 180-2, appendix D.1, the SHA-384 digest of "abc", in base64.
        let digest = "sha384-ywB1P0WjXou1oD1pmsZQBycsMqsO3tFjGotgWkP/W+2AhgcroefMI1i67KE0yCWn";
        let script = format!("<script type=\"module\" src=\"tilt.js\" integrity=\"{digest}\">");
        let style = "<link rel=\"stylesheet\" href=\"./style-1.css\" integrity=\"d\"/>";
        assert_eq!(built, format!("<title>x</title>{style}\n{script}</script>"));
        for (page, start) in [(page.as_str(), "<html>"), ("<title>x</title>", start), (&page.repeat(2), start)] {
            assert!(finished(page, start, &scripts).is_err(), "{page}");
        }
    }

    #[test]
    fn the_pages_name_their_style_and_scripts_so() {
        let pages =
            [include_str!("../../../web/public/measuring.html"), include_str!("../../../web/public/how-good.html")];
        for ((page, names), html) in PAGES.into_iter().zip(pages) {
            let scripts: Vec<_> = names.iter().map(|name| (*name, String::new())).collect();
            assert_eq!(finished(html, "<link rel=\"stylesheet\" href=\"a.css\">", &scripts).err(), None, "{page}");
        }
    }
}
