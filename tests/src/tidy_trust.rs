//! Rules of the house on trust: no unsafe code, no markup from text, and a map of the code that says what is there.

use crate::tidy::{fail_if_any, map_of_the_code, root, said_by, tracked};
use serde_json::Value;

/// What cargo says of our own packages.
fn packages() -> Vec<Value> {
    let said = said_by(env!("CARGO"), &["metadata", "--no-deps", "--offline", "--format-version", "1"]);
    let mut said: Value = serde_json::from_str(&said).expect("cargo speaks JSON");
    match said["packages"].take() {
        Value::Array(packages) => packages,
        other => panic!("no list of packages: {other}"),
    }
}

/// The lines of a manifest's table, without comments.
fn table<'a>(manifest: &'a str, name: &str) -> Vec<&'a str> {
    let behind = manifest.lines().skip_while(|line| line.trim() != format!("[{name}]")).skip(1);
    behind.take_while(|line| !line.starts_with('[')).map(str::trim).filter(|line| !line.starts_with('#')).collect()
}

#[test]
fn unsafe_code_is_denied_in_every_crate_and_allowed_nowhere() {
    let read = |path: &str| std::fs::read_to_string(root().join(path)).unwrap_or_else(|why| panic!("{path}: {why}"));
    assert!(
        table(&read("Cargo.toml"), "workspace.lints.rust").contains(&"unsafe_code = \"deny\""),
        "the workspace denies"
    );
    let mut faults = Vec::new();
    let packages = packages();
    assert!(packages.len() >= 10, "{} packages", packages.len());
    for package in &packages {
        let manifest = package["manifest_path"].as_str().expect("a path");
        let text = std::fs::read_to_string(manifest).unwrap_or_else(|why| panic!("{manifest}: {why}"));
        if !table(&text, "lints").contains(&"workspace = true") {
            faults.push(format!("{} has lints of its own", package["name"]));
        }
    }
    // Written in two parts, so that this file does not hold what it looks for.
    let word = ["unsafe", "_code"].concat();
    for (path, text) in tracked().into_iter().filter(|(path, _)| path.ends_with(".rs")) {
        let lines =
            text.lines().filter(|line| line.contains(&format!("({word}")) || line.contains(&format!(" {word}")));
        faults.extend(lines.filter(|line| line.contains("#")).map(|line| format!("{path}: {line}")));
    }
    fail_if_any(&faults, "unsafe code is denied, by the workspace's lints, without exception");
}

/// What makes markup or a program of a text, in the object model and in scripts.
const MAKERS: [[&str; 2]; 14] = [
    ["inner", "_html"],
    ["inner", "HTML"],
    ["outer", "_html"],
    ["outer", "HTML"],
    ["insert_adjacent", "_html"],
    ["insertAdjacent", "HTML"],
    ["create_contextual", "_fragment"],
    ["createContextual", "Fragment"],
    ["document", ".write"],
    ["DOM", "Parser"],
    ["src", "doc"],
    ["ev", "al("],
    ["new ", "Function("],
    ["javascript", ":"],
];

/// The makers in a text, if no letter stands before them.
fn makers(text: &str) -> Vec<String> {
    let whole = |found: &str| {
        let before = |at: usize| text[..at].chars().next_back().is_some_and(char::is_alphanumeric);
        text.match_indices(found).any(|(at, _)| !before(at))
    };
    MAKERS.iter().map(|parts| parts.concat()).filter(|maker| whole(maker)).collect()
}

#[test]
fn nothing_in_the_page_makes_markup_from_text() {
    let shipped = |path: &str| (path.starts_with("web/") && !path.ends_with(".json")) || path == "index.html";
    let found = |(path, text): (String, String)| {
        if !shipped(&path) {
            return Vec::new();
        }
        makers(&text).into_iter().map(|maker| format!("{path}: {maker}")).collect()
    };
    fail_if_any(&tracked().into_iter().flat_map(found).collect::<Vec<_>>(), "text is put on the page as text nodes");
}

#[test]
fn a_maker_of_markup_is_found() {
    for parts in [["x.inner", "HTML = name"], ["x.set_inner", "_html(name)"], ["(ev", "al(name))"]] {
        assert_eq!(makers(&parts.concat()).len(), 1, "{parts:?}");
    }
    assert_eq!(makers("a retrieval(of) inner, html"), [""; 0], "parts of longer words");
}

/// The first cells of the table of the map.
fn places(map: &str) -> Vec<&str> {
    let rows = map.lines().skip_while(|line| *line != "| where | what it is for |").skip(2);
    rows.take_while(|line| line.starts_with('|')).filter_map(|line| line.split('|').nth(1)).map(str::trim).collect()
}

#[test]
fn the_map_names_what_is_there_and_every_crate_and_folder() {
    let map = map_of_the_code();
    let places = places(&map);
    assert!(places.len() > 20, "{} rows", places.len());
    let named: Vec<&str> = places.iter().flat_map(|cell| cell.split('`').skip(1).step_by(2)).collect();
    let mut faults: Vec<_> =
        named.iter().filter(|path| !root().join(path).exists()).map(|path| format!("{path} is not there")).collect();
    let mut due = Vec::new();
    for package in packages() {
        let manifest = package["manifest_path"].as_str().expect("a path").replace('\\', "/");
        let crate_folder = manifest.trim_end_matches("/Cargo.toml").rsplit_once('/').expect("a folder").1.to_owned();
        due.push(match crate_folder.as_str() {
            top @ ("web" | "tests") => format!("{top}/src"),
            other => format!("crates/{other}"),
        });
    }
    for (path, _) in tracked() {
        // The page and its tests by folder.
        let parts: Vec<&str> = path.split('/').collect();
        match parts[..] {
            ["web", "src", folder, _, ..] => due.push(format!("web/src/{folder}")),
            ["tests", folder @ ("browser" | "engines" | "fuzz"), _, ..] => due.push(format!("tests/{folder}")),
            _ => {}
        }
    }
    due.sort();
    due.dedup();
    // A folder is told by its own row, or by rows of what is in it.
    let told = |place: &String| named.iter().any(|path| path == place || path.starts_with(&format!("{place}/")));
    faults.extend(due.iter().filter(|place| !told(place)).map(|place| format!("{place} is not on the map")));
    fail_if_any(&faults, "the table of DEVELOPERS.md");
}

#[test]
fn places_are_read_from_the_table_of_the_map() {
    let map = "x\n| where | what it is for |\n|---|---|\n| `a/b`, `c` | words `not/this` |\n\n| `d` | x |\n";
    assert_eq!(places(map), ["`a/b`, `c`"]);
}
