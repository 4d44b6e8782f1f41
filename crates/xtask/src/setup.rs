//! Brings the tools of the page and of its tests; what is here already is used.

use std::{
    env, fs,
    path::{Path, PathBuf},
    process::Command,
};

use crate::{
    command::{cargo, printed_by, run},
    failure::Failure,
    project::Project,
    versions,
};

/// The newest that the compiler named in Cargo.toml can build; Trunk.toml asks for the same.
const TRUNK: &str = "0.21.14";

/// The newest release when it was brought in.
const CARGO_DENY: &str = "0.20.2";

/// What playwright-core asks for in its own manifest.
const NODE_MAJOR: u32 = 20;

/// npm is a script with another ending on Windows, and only `.exe` is found without it.
const NPM: &str = if cfg!(windows) { "npm.cmd" } else { "npm" };

/// Brings Trunk and wasm-bindgen. Gives the folders to put in front of PATH.
pub(crate) fn page_tools(project: &Project) -> Result<Vec<PathBuf>, Failure> {
    let bindgen = project.locked_crate("wasm-bindgen")?;
    let trunk = cargo_tool("trunk", "trunk", TRUNK, &["--no-default-features"])?;
    let bindgen = cargo_tool("wasm-bindgen-cli", "wasm-bindgen", &bindgen, &[])?;
    Ok(trunk.into_iter().chain(bindgen).collect())
}

/// Brings cargo-deny. Gives the folder to put in front of PATH, if one is needed.
pub(crate) fn audit_tool() -> Result<Option<PathBuf>, Failure> {
    cargo_tool("cargo-deny", "cargo-deny", CARGO_DENY, &[])
}

/// Brings wasm-opt, which shrinks the module. Gives the folder to put in front of PATH, if one is needed.
pub(crate) fn wasm_opt(project: &Project) -> Result<Option<PathBuf>, Failure> {
    let npm_version = project.npm_package("web/package.json", "binaryen")?;
    let release = versions::binaryen_release(&npm_version)
        .ok_or_else(|| Failure::new(format!("web/package.json: binaryen {npm_version} is no whole release")))?;
    if states_version("wasm-opt", &release) {
        println!("wasm-opt {release}: on PATH");
        return Ok(None);
    }
    npm_packages(project, "web")?;
    Ok(Some(project.path("web/node_modules/.bin")))
}

/// Installs what a folder's package-lock.json names, unless exactly that is installed.
///
/// # Errors
/// If Node.js or npm are missing or npm fails.
pub(crate) fn npm_packages(project: &Project, folder: &str) -> Result<(), Failure> {
    node()?;
    let lock = project.path(folder).join("package-lock.json");
    let installed = project.path(folder).join("node_modules/.installed-lock.json");
    let wanted = fs::read(&lock).map_err(Failure::io(lock.display()))?;
    if fs::read(&installed).is_ok_and(|had| had == wanted) {
        println!("npm packages of {folder}/: here");
        return Ok(());
    }
    run(Command::new(NPM).args(["ci", "--no-audit", "--no-fund"]).current_dir(project.path(folder)))?;
    fs::write(&installed, wanted).map_err(Failure::io(installed.display()))
}

fn node() -> Result<(), Failure> {
    let remedy = format!("install Node.js {NODE_MAJOR} or newer with npm");
    let version = printed_by(Command::new("node").arg("--version"))
        .ok_or_else(|| Failure::new("node is missing").remedy(&remedy))?;
    if versions::major_minor(&version).is_none_or(|(major, _)| major < NODE_MAJOR) {
        return Err(Failure::new(format!("node {version} is too old")).remedy(remedy));
    }
    if printed_by(Command::new(NPM).arg("--version")).is_none() {
        return Err(Failure::new("npm is missing").remedy(remedy));
    }
    Ok(())
}

/// Brings a program that comes as a crate. Gives its folder, or `None` where PATH has this version already.
fn cargo_tool(package: &str, program: &str, version: &str, options: &[&str]) -> Result<Option<PathBuf>, Failure> {
    if states_version(program, version) {
        println!("{program} {version}: on PATH");
        return Ok(None);
    }
    let root = cache()?.join(format!("{package}-{version}"));
    let bin = root.join("bin");
    if !states_version(bin.join(program), version) {
        println!("{program} {version}: to be built into {} (some minutes)", root.display());
        install(package, version, options, &root)?;
    }
    println!("{program} {version}: in {}", root.display());
    Ok(Some(bin))
}

fn install(package: &str, version: &str, options: &[&str], root: &Path) -> Result<(), Failure> {
    let cargo_install = |locked: &[&str]| {
        let mut command = cargo();
        // Built lightly: this tool is not what we ship.
        command
            .env("CARGO_PROFILE_RELEASE_LTO", "off")
            .env("CARGO_PROFILE_RELEASE_CODEGEN_UNITS", "16")
            .env("CARGO_PROFILE_RELEASE_OPT_LEVEL", "1")
            .args(["install", package, "--version", version])
            .args(locked)
            .args(options)
            .arg("--root")
            .arg(root);
        run(&mut command)
    };
    cargo_install(&["--locked"]).or_else(|failure| {
        // A registry may lack a version that the tool's own lock names.
        println!("{failure}\nonce more with newer dependencies");
        cargo_install(&[]).map_err(|failure| failure.remedy("is crates.io within reach?"))
    })
}

fn states_version(program: impl AsRef<Path>, version: &str) -> bool {
    let printed = printed_by(Command::new(program.as_ref()).arg("--version"));
    printed.is_some_and(|printed| versions::states(&printed, version))
}

/// Where built tools are kept, shared by all clones.
fn cache() -> Result<PathBuf, Failure> {
    env::var_os("XDG_CACHE_HOME")
        .map(PathBuf::from)
        .filter(|folder| folder.is_absolute()) // The XDG Base Directory Specification has relative ones ignored.
        .or_else(|| env::home_dir().map(|home| home.join(".cache")))
        .map(|folder| folder.join("hosewright"))
        .ok_or_else(|| Failure::new("no home folder to keep tools in").remedy("set HOME or XDG_CACHE_HOME"))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn trunk_toml_accepts_the_trunk_we_bring() {
        let trunk_toml = include_str!("../../../Trunk.toml");
        assert!(trunk_toml.contains(&format!("trunk-version = \">={TRUNK}, ")), "Trunk.toml and {TRUNK}");
    }

    #[test]
    fn the_lock_names_the_wasm_bindgen_we_bring() {
        let project = Project::find().unwrap();
        assert!(project.locked_crate("wasm-bindgen").is_ok(), "Cargo.lock");
    }
}
