//! Rules of the house: which way crates point, what files must say, and what they must not.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::Command;

pub(crate) fn root() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).parent().expect("tests/ lies in the workspace").to_owned()
}

pub(crate) fn said_by(program: &str, args: &[&str]) -> String {
    let output = Command::new(program).args(args).current_dir(root()).output();
    let output = output.unwrap_or_else(|why| panic!("{program} does not run: {why}"));
    assert!(output.status.success(), "{program} {args:?}: {}", String::from_utf8_lossy(&output.stderr));
    String::from_utf8(output.stdout).expect("the answer is text")
}

/// The tracked files that are text and there, by their path from the root.
pub(crate) fn tracked() -> BTreeMap<String, String> {
    let list = said_by("git", &["ls-files", "-z"]);
    let read = |path: &str| Some((path.to_owned(), std::fs::read_to_string(root().join(path)).ok()?));
    let files: BTreeMap<_, _> = list.split_terminator('\0').filter_map(read).collect();
    assert!(files.len() > 20, "git lists only {} text files", files.len());
    files
}

pub(crate) fn fail_if_any(faults: &[String], rule: &str) {
    assert!(faults.is_empty(), "{rule}\n{}", faults.join("\n"));
}

#[test]
fn every_rust_file_states_its_job_in_line_one() {
    let silent = |(path, text): (String, String)| {
        let states = text.lines().next().is_some_and(|line| line.starts_with("//! ") && line.len() > 8);
        (path.ends_with(".rs") && !states).then_some(path)
    };
    fail_if_any(&tracked().into_iter().filter_map(silent).collect::<Vec<_>>(), "line one is `//! ` and a sentence");
}

#[test]
fn no_source_file_is_longer_than_six_hundred_lines() {
    const SOURCES: [&str; 9] = ["rs", "ts", "js", "mjs", "css", "html", "sh", "py", "toml"];
    let long = |(path, text): (String, String)| {
        let source = Path::new(&path).extension().is_some_and(|ext| SOURCES.iter().any(|source| ext == *source));
        let lines = text.lines().count();
        (source && lines > 600).then(|| format!("{path}: {lines} lines"))
    };
    fail_if_any(&tracked().into_iter().filter_map(long).collect::<Vec<_>>(), "past 600 lines a second thing moved in");
}

/// Which of our crates each of our crates may use. `web` does not name `shape` or `checks`: it asks `job`. `tests` may use all.
const MAY_USE: [(&str, &[&str]); 11] = [
    ("quantity", &[]),
    ("shape", &[]),
    ("stock", &["quantity"]),
    ("coolant", &["quantity"]),
    ("checks", &["shape", "stock", "coolant", "quantity"]),
    ("job", &["checks", "shape", "stock", "coolant", "quantity"]),
    ("share", &["job", "stock", "quantity"]),
    ("door", &["share", "stock"]),
    ("trace", &["quantity"]),
    ("web", &["job", "share", "stock", "quantity"]),
    ("xtask", &[]),
];

#[test]
fn manifests_point_only_one_way() {
    let said = said_by(env!("CARGO"), &["metadata", "--no-deps", "--offline", "--format-version", "1"]);
    let said: serde_json::Value = serde_json::from_str(&said).expect("cargo speaks JSON");
    let packages = said["packages"].as_array().expect("a list of packages");
    let name = |value: &serde_json::Value| value["name"].as_str().expect("a name").to_owned();
    let ours: Vec<_> = packages.iter().map(name).collect();
    assert!(
        ["quantity", "shape", "stock", "web", "tests"].iter().all(|known| ours.iter().any(|own| own == known)),
        "{ours:?}"
    );
    let mut faults = Vec::new();
    for package in packages.iter().filter(|package| package["name"] != "tests") {
        let user = name(package);
        let Some((_, allowed)) = MAY_USE.iter().find(|(known, _)| *known == user) else {
            faults.push(format!("{user} is not in the list of this test"));
            continue;
        };
        // What a crate's own tests and examples use says nothing of the crate.
        let shipped = |used: &&serde_json::Value| used["kind"] != "dev";
        let used = package["dependencies"].as_array().expect("a list of dependencies").iter().filter(shipped).map(name);
        let wrong = used.filter(|used| ours.contains(used) && !allowed.contains(&used.as_str()));
        faults.extend(wrong.map(|used| format!("{user} uses {used}")));
    }
    fail_if_any(&faults, "crates point one way");
}

pub(crate) fn map_of_the_code() -> String {
    std::fs::read_to_string(root().join("DEVELOPERS.md")).expect("DEVELOPERS.md is there")
}

#[test]
fn every_crate_is_on_the_map() {
    let map = map_of_the_code();
    let crates = std::fs::read_dir(root().join("crates")).expect("crates/ is there");
    let names =
        crates.map(|entry| entry.expect("an entry of crates/").path()).filter(|path| path.join("Cargo.toml").exists());
    let names = names.map(|path| path.file_name().expect("a name").to_string_lossy().into_owned());
    let missing: Vec<_> = names.filter(|name| !map.contains(&format!("crates/{name}"))).collect();
    fail_if_any(&missing, "every crate's folder is named in DEVELOPERS.md");
}

/// Paths in backticks that look like one of ours.
fn paths_on(map: &str) -> Vec<&str> {
    let quoted = map.split('`').skip(1).step_by(2);
    let ours = |path: &&str| ["crates/", "web/", "tests/"].iter().any(|top| path.starts_with(top));
    // A pattern (`crates/*`, `cases/<name>`) or a command is not a path.
    quoted.filter(ours).filter(|path| !path.contains(['*', '<', '{', ' ', '\n'])).collect()
}

#[test]
fn every_path_on_the_map_is_there() {
    let map = map_of_the_code();
    let paths = paths_on(&map);
    assert!(paths.len() >= 5, "a map without paths is no map: {paths:?}");
    let lost: Vec<_> = paths.iter().filter(|path| !root().join(path).exists()).map(|path| (*path).to_owned()).collect();
    fail_if_any(&lost, "DEVELOPERS.md names what is there");
}

#[test]
fn paths_are_found_between_backticks() {
    assert_eq!(
        paths_on("see `crates/shape/src` and `Lie`, not crates/x or `crates/*`; `web/src`"),
        ["crates/shape/src", "web/src"]
    );
}

/// What a path of somebody's machine or the host of somebody's registry looks like in `text`.
fn machine_traces(path: &str, text: &str) -> Vec<String> {
    // Written in two parts, so that this file does not hold what it looks for.
    let homes = [("/ho", "me/"), ("/ro", "ot/"), ("/Us", "ers/"), ("C:\\Us", "ers\\"), ("/wo", "rk/")];
    let mirrors = [("artif", "actory"), ("nex", "us/repository"), ("verd", "accio")];
    let found = homes.iter().chain(&mirrors).map(|(head, tail)| format!("{head}{tail}"));
    let mut traces: Vec<_> = found.filter(|trace| text.contains(trace)).collect();
    // A lock file names the public registry, which every package manager writes; any other file names none.
    const PUBLIC: [(&str, &str); 3] = [("registry.", "npmjs.org"), ("index.", "crates.io"), ("static.", "crates.io")];
    let locks = path.ends_with("Cargo.lock") || path.ends_with("package-lock.json");
    let hosts = PUBLIC.iter().map(|(head, tail)| format!("{head}{tail}"));
    traces.extend(hosts.filter(|host| !locks && text.contains(host)));
    if locks {
        let public =
            [format!("https://{}{}/", PUBLIC[0].0, PUBLIC[0].1), "https://github.com/rust-lang/crates.io-index".into()];
        let sources = text.lines().filter(|line| line.contains("\"resolved\":") || line.starts_with("source = "));
        let strange = sources.filter(|line| !public.iter().any(|known| line.contains(known)));
        traces.extend(strange.map(|line| line.trim().to_owned()));
    }
    traces
}

#[test]
fn no_file_tells_of_the_machine_it_was_made_on() {
    let traces = |(path, text): (String, String)| {
        machine_traces(&path, &text).into_iter().map(|trace| format!("{path}: {trace}")).collect::<Vec<_>>()
    };
    fail_if_any(&tracked().into_iter().flat_map(traces).collect::<Vec<_>>(), "no machine's path, no registry's host");
}

#[test]
fn traces_of_a_machine_are_found() {
    let home = format!("see /ho{}someone/file", "me/");
    assert_eq!(machine_traces("README.md", &home).len(), 1, "a home");
    let mirror = format!("\"resolved\": \"https://mirror.example/{}\"", "x.tgz");
    assert_eq!(machine_traces("web/package-lock.json", &mirror).len(), 1, "a mirror in a lock file");
    let source = "source = \"registry+https://github.com/rust-lang/crates.io-index\"";
    assert_eq!(machine_traces("Cargo.lock", source), [""; 0], "what every package manager writes");
}
