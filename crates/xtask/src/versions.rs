//! Reads version numbers out of lock files, manifests and what programs print.

/// The version of `name` in the text of a Cargo.lock. With several versions locked, the first.
pub(crate) fn locked_crate(lock: &str, name: &str) -> Option<String> {
    let name_line = format!("name = \"{name}\"");
    let mut lines = lock.lines().skip_while(|line| *line != name_line);
    lines.nth(1)?.strip_prefix("version = \"")?.strip_suffix('"').map(String::from)
}

/// The exact version of `name` in the text of a package.json.
pub(crate) fn npm_package(manifest: &str, name: &str) -> Option<String> {
    let (_, after) = manifest.split_once(&format!("\"{name}\":"))?;
    after.trim_start().strip_prefix('"')?.split('"').next().map(String::from)
}

/// The name Binaryen gives a release: `version_132` for the npm package 132.0.0.
pub(crate) fn binaryen_release(npm_version: &str) -> Option<String> {
    npm_version.strip_suffix(".0.0").map(|major| format!("version_{major}"))
}

/// Whether what a program printed for `--version` names this version as a word of its own.
pub(crate) fn states(printed: &str, version: &str) -> bool {
    printed.split(|c: char| c.is_whitespace() || "()".contains(c)).any(|word| word == version)
}

/// Major and minor number of the first dotted number in `printed`, as in `rustc 1.96.0 (…)` or `v20.20.2`.
pub(crate) fn major_minor(printed: &str) -> Option<(u32, u32)> {
    printed.split_whitespace().find_map(|word| {
        let mut parts = word.trim_start_matches('v').split('.');
        Some((parts.next()?.parse().ok()?, parts.next()?.parse().ok()?))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    const LOCK: &str = "version = 4\n\n[[package]]\nname = \"wasm-bindgen-macro\"\nversion = \"0.2.1\"\n\n\
                        [[package]]\nname = \"wasm-bindgen\"\nversion = \"0.2.130\"\nsource = \"registry\"\n";

    #[test]
    fn a_locked_version_is_that_of_the_whole_name() {
        assert_eq!(locked_crate(LOCK, "wasm-bindgen").as_deref(), Some("0.2.130"), "not that of the macro crate");
        assert_eq!(locked_crate(LOCK, "wasm"), None, "half a name");
    }

    #[test]
    fn an_npm_version_is_read_from_a_manifest() {
        let manifest = r#"{ "devDependencies": { "binaryen": "132.0.0" } }"#;
        assert_eq!(npm_package(manifest, "binaryen").as_deref(), Some("132.0.0"), "the version in quotes");
        assert_eq!(npm_package(manifest, "binary"), None, "half a name");
    }

    /// The printed lines are those of the programs themselves.
    #[test]
    fn a_printed_version_counts_only_as_a_whole_word() {
        assert!(states("trunk 0.21.14", "0.21.14"), "trunk's line");
        assert!(states("wasm-opt version 132 (version_132)", "version_132"), "wasm-opt's line");
        assert!(!states("trunk 0.21.140", "0.21.14"), "a longer number");
    }

    #[test]
    fn the_first_dotted_number_counts() {
        assert_eq!(major_minor("rustc 1.96.0 (ac68faa20 2026-05-25)"), Some((1, 96)), "rustc's line");
        assert_eq!(major_minor("v20.20.2"), Some((20, 20)), "node's line");
        assert_eq!(major_minor("unknown"), None, "no number");
    }

    /// Trunk takes wasm-opt from PATH only if its release is the one in Trunk.toml; npm installs the other file's.
    #[test]
    fn trunk_and_npm_ask_for_the_same_wasm_opt() {
        let trunk = include_str!("../../../Trunk.toml");
        let npm = npm_package(include_str!("../../../web/package.json"), "binaryen").unwrap();
        let release = binaryen_release(&npm).unwrap();
        assert!(trunk.contains(&format!("wasm_opt = \"{release}\"")), "web/package.json has {npm}, so {release}");
    }
}
