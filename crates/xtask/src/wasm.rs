//! Finds or fetches a toolchain that builds for WebAssembly, without touching the one that builds for this machine.

use std::{
    env,
    ffi::OsString,
    fs,
    path::{Path, PathBuf},
    process::Command,
    time::Duration,
};

use crate::{
    apt,
    command::{on_path, printed_by, run, run_within},
    failure::Failure,
    project::Project,
    versions::major_minor,
};

pub(crate) const TARGET: &str = "wasm32-unknown-unknown";

/// Debian's compiler with its WebAssembly side, and std's sources to build std from.
const DEBIAN_RUSTC: &str = "/usr/bin/rustc";
const DEBIAN_PACKAGES: [&str; 2] = ["rustc-web", "rust-web-src"];
const DEBIAN_LINKER_PACKAGE: &str = "lld";

/// How long rustup may try (our choice: a slow line needs a minute, a closed network never answers).
const RUSTUP_LIMIT: Duration = Duration::from_secs(120);

/// What builds the page.
#[derive(Debug)]
pub(crate) enum Toolchain {
    /// The active toolchain has the target.
    Active,
    /// Debian's compiler, which builds std too, for the calls that name the target; the active one for all others.
    Debian { linker: PathBuf, std_source: PathBuf },
}

/// What this machine offers, as far as it is known yet.
#[derive(Debug, Clone, Copy)]
struct Machine {
    has_target: bool,
    rustup: bool,
    has_debian: bool,
    may_install: bool,
}

/// The next thing to do.
#[derive(Debug, PartialEq, Eq)]
enum Way {
    UseActive,
    AskRustup,
    UseDebian,
    InstallDebian,
    TellThePerson,
}

impl Machine {
    /// The ordinary way first; Debian's compiler only where rustup has nothing to offer.
    fn way(self) -> Way {
        match self {
            Self { has_target: true, .. } => Way::UseActive,
            Self { rustup: true, .. } => Way::AskRustup,
            Self { has_debian: true, .. } => Way::UseDebian,
            Self { may_install: true, .. } => Way::InstallDebian,
            Self { .. } => Way::TellThePerson,
        }
    }
}

/// Finds a toolchain, fetching what is missing.
///
/// # Errors
/// If there is none and none can be fetched; the failure says what to type.
pub(crate) fn toolchain() -> Result<Toolchain, Failure> {
    let mut machine = Machine {
        has_target: active_has_target(),
        rustup: on_path("rustup").is_some(),
        has_debian: debian_std_source().is_some(),
        may_install: apt::may_install(),
    };
    loop {
        match machine.way() {
            Way::UseActive => {
                println!("the active toolchain has {TARGET}");
                return Ok(Toolchain::Active);
            }
            Way::AskRustup => {
                if let Err(failure) = run_within(Command::new("rustup").args(["target", "add", TARGET]), RUSTUP_LIMIT) {
                    println!("{failure}\ngoing on without rustup");
                }
                machine.rustup = false;
                machine.has_target = active_has_target();
            }
            Way::UseDebian => return debian(),
            Way::InstallDebian => {
                let linker = active_linker().is_none().then_some(DEBIAN_LINKER_PACKAGE);
                apt::install(&DEBIAN_PACKAGES.into_iter().chain(linker).collect::<Vec<_>>())?;
                machine.may_install = false;
                machine.has_debian = debian_std_source().is_some();
            }
            Way::TellThePerson => {
                let debian =
                    if apt::is_here() { format!(", or {}", apt::command_for(&DEBIAN_PACKAGES)) } else { String::new() };
                return Err(Failure::new(format!("no toolchain here builds for {TARGET}"))
                    .remedy(format!("type: rustup target add {TARGET}{debian}")));
            }
        }
    }
}

fn debian() -> Result<Toolchain, Failure> {
    let std_source = debian_std_source().ok_or_else(|| Failure::new("Debian's std sources are gone"))?;
    let linker = active_linker()
        .ok_or_else(|| Failure::new("no linker for WebAssembly").remedy(apt::command_for(&[DEBIAN_LINKER_PACKAGE])))?;
    println!("{DEBIAN_RUSTC} builds for {TARGET}, std included; linker {}", linker.display());
    // An offline build needs std's own dependencies in cargo's cache.
    let std_manifest = std_source.join("Cargo.toml");
    run(crate::command::cargo()
        .env("RUSTC_BOOTSTRAP", "1")
        .args(["fetch", "--quiet", "--locked", "--manifest-path"])
        .arg(std_manifest))?;
    Ok(Toolchain::Debian { linker, std_source })
}

impl Toolchain {
    /// Folders to put in front of PATH: the shim that lends Debian's compiler to calls that name the target.
    pub(crate) fn path(&self, project: &Project) -> Option<PathBuf> {
        matches!(self, Self::Debian { .. }).then(|| project.path("crates/xtask/shim"))
    }

    /// Sets what cargo needs to build for the target when Trunk calls it.
    pub(crate) fn lend_to(&self, command: &mut Command, project: &Project) -> Result<(), Failure> {
        if let Self::Debian { linker, .. } = self {
            command
                .env("FALLBACK_CARGO", crate::command::cargo().get_program())
                .env("FALLBACK_RUSTC", DEBIAN_RUSTC)
                .env("FALLBACK_LINKER", linker);
        }
        command.env("CARGO_ENCODED_RUSTFLAGS", self.flags(project)?);
        Ok(())
    }

    /// Panic messages carry the paths of sources. These flags rename them, or the page would hold the builder's
    /// folders and differ from machine to machine. In cargo's encoded form, which bears spaces in paths.
    ///
    /// Before them the switch by which Leptos takes the types of views out of those around them: without it every
    /// component is compiled anew for each place it stands in.
    fn flags(&self, project: &Project) -> Result<OsString, Failure> {
        let mut renames = vec![(project.root().to_path_buf(), ".")];
        // One by one: the registry's own name in the path must go too. (Of two that fit, rustc takes the later.)
        for source in registry_sources()? {
            renames.push((source, "dep"));
        }
        match self {
            Self::Debian { std_source, .. } => renames.push((std_source.clone(), "std")),
            Self::Active => renames.extend(std_source_of("rustc").map(|source| (source, "std"))),
        }
        let mut flags = OsString::from("--cfg=erase_components");
        for (from, to) in renames {
            flags.push("\u{1f}--remap-path-prefix=");
            flags.push(from);
            flags.push("=");
            flags.push(to);
        }
        Ok(flags)
    }
}

/// Cargo's own folder.
pub(crate) fn cargo_home() -> Result<PathBuf, Failure> {
    env::var_os("CARGO_HOME")
        .map(PathBuf::from)
        .or_else(|| env::home_dir().map(|home| home.join(".cargo")))
        .ok_or_else(|| Failure::new("no home folder").remedy("set HOME"))
}

/// Where cargo unpacked the sources of dependencies: a folder for each registry, in a fixed order.
fn registry_sources() -> Result<Vec<PathBuf>, Failure> {
    let folder = cargo_home()?.join("registry/src");
    let Ok(entries) = fs::read_dir(&folder) else { return Ok(Vec::new()) };
    let mut sources = Vec::new();
    for entry in entries {
        sources.push(entry.map_err(Failure::io(folder.display()))?.path());
    }
    sources.sort();
    Ok(sources)
}

fn active_has_target() -> bool {
    let folder = printed_by(Command::new("rustc").args(["--print", "target-libdir", "--target", TARGET]));
    let Some(entries) = folder.and_then(|folder| fs::read_dir(folder).ok()) else { return false };
    entries.flatten().any(|entry| entry.file_name().to_string_lossy().starts_with("libcore-"))
}

/// The linker that came with the active toolchain, else one from PATH.
fn active_linker() -> Option<PathBuf> {
    const ON_PATH: [&str; 4] = ["wasm-ld", "wasm-ld-22", "wasm-ld-19", "wasm-ld-14"];
    let own = || {
        let sysroot = printed_by(Command::new("rustc").args(["--print", "sysroot"]))?;
        let host = printed_by(Command::new("rustc").args(["--print", "host-tuple"]))?;
        let linker = Path::new(&sysroot).join("lib/rustlib").join(host).join("bin/rust-lld");
        linker.is_file().then_some(linker)
    };
    own().or_else(|| ON_PATH.into_iter().find_map(on_path))
}

/// Debian's std sources, if its compiler is new enough for this workspace.
fn debian_std_source() -> Option<PathBuf> {
    let wanted = major_minor(env!("CARGO_PKG_RUST_VERSION").trim())?;
    let printed = printed_by(Command::new(DEBIAN_RUSTC).arg("--version"))?;
    (major_minor(&printed)? >= wanted).then(|| std_source_of(DEBIAN_RUSTC))?
}

fn std_source_of(rustc: &str) -> Option<PathBuf> {
    let sysroot = printed_by(Command::new(rustc).args(["--print", "sysroot"]))?;
    let source = Path::new(&sysroot).join("lib/rustlib/src/rust/library");
    source.join("Cargo.lock").is_file().then_some(source)
}

#[cfg(test)]
mod tests {
    use super::*;

    const BARE: Machine = Machine { has_target: false, rustup: false, has_debian: false, may_install: false };

    #[test]
    fn the_ordinary_way_comes_first() {
        let all = Machine { has_target: true, rustup: true, has_debian: true, may_install: true };
        assert_eq!(all.way(), Way::UseActive, "nothing to fetch");
        assert_eq!(Machine { has_target: false, ..all }.way(), Way::AskRustup, "before Debian's");
        assert_eq!(Machine { has_debian: true, may_install: true, ..BARE }.way(), Way::UseDebian, "it is here");
        assert_eq!(Machine { may_install: true, ..BARE }.way(), Way::InstallDebian, "as root");
        assert_eq!(BARE.way(), Way::TellThePerson, "nothing we could do");
    }

    /// The form is cargo's: flags separated by the ASCII unit separator (The Cargo Book, "Environment Variables").
    #[test]
    fn the_checkout_is_renamed_in_the_page() {
        let project = Project::find().unwrap();
        let flags = Toolchain::Active.flags(&project).unwrap().into_string().unwrap();
        let first = flags.split('\u{1f}').nth(1).unwrap();
        assert_eq!(first, format!("--remap-path-prefix={}=.", project.root().display()), "{flags}");
    }
}
