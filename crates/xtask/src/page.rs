//! Builds the page with Trunk: released into dist/, or the quick loop of a developer.

use std::{
    env, fs,
    path::{MAIN_SEPARATOR, PathBuf},
    process::{Command, ExitCode},
};

use crate::{
    beside,
    command::{cargo, hand_over, path_with, run},
    failure::Failure,
    project::Project,
    serve, setup, slim, stamp,
    steps::Steps,
    wasm::{self, Toolchain},
};

/// Where the released page goes.
const DIST: &str = "dist";

/// Not the port of the released page: a browser that keeps that page would show it here as well.
const DEV_PORT: u16 = 8081;

/// `cargo xtask build`.
pub(crate) fn build_only(project: &Project) -> ExitCode {
    let mut steps = Steps::default();
    build(project, &mut steps);
    steps.close()
}

/// `cargo xtask serve`.
pub(crate) fn build_and_serve(project: &Project) -> Result<ExitCode, Failure> {
    let mut steps = Steps::default();
    let built = build(project, &mut steps);
    let code = steps.close();
    if !built {
        return Ok(code);
    }
    serve::until_interrupted(project.path(DIST))?;
    Ok(ExitCode::SUCCESS)
}

/// Builds the released page into dist/; says whether it is there.
pub(crate) fn build(project: &Project, steps: &mut Steps) -> bool {
    let page = "page";
    let Some(kit) = steps.run("tools of the page", || Kit::bring(project, true)) else {
        steps.not_run(page);
        return false;
    };
    steps.run(page, || {
        run(&mut kit.trunk(project, &["build", "--release"])?)?;
        let start = project.path("dist/index.html");
        let html = fs::read_to_string(&start).map_err(Failure::io(start.display()))?;
        // Other languages are brought by name, so the start page holds no digest of them; the service worker's list does.
        let mut checked = files_in(project, DIST)?;
        checked.retain(|file| !file.starts_with(project.path("dist/words")));
        let html = slim::slim(&checked, without_preload(&html)?)?;
        beside::finish(project, &html)?;
        fs::write(&start, html).map_err(Failure::io(start.display()))?;
        // Not a hook of Trunk's: only the released page is kept for offline use.
        stamp::stamp(&project.path("web/sw.js"), &project.path(DIST), &files_in(project, DIST)?)?;
        refuse_paths_of_this_machine(project, DIST)?;
        show_sizes(project, DIST)
    }) == Some(())
}

/// The start page without Trunk's preload of the module: first.js fetches it with its digest, and neither Firefox nor
/// Safari's engine takes what was preloaded for that, so they would download it twice. The link stays, for first.js to read.
fn without_preload(html: &str) -> Result<String, Failure> {
    const PRELOAD: &str = "<link rel=\"preload\"";
    if html.matches(PRELOAD).count() != 1 {
        return Err(Failure::new("dist/index.html: not one preload link, as Trunk writes it for the module"));
    }
    Ok(html.replace(PRELOAD, "<link rel=\"module\""))
}

/// `cargo xtask serve --dev`: apart from dist/, so that it never passes for the released page.
pub(crate) fn serve_dev(project: &Project) -> Result<ExitCode, Failure> {
    let mut steps = Steps::default();
    let Some(kit) = steps.run("tools of the page", || Kit::bring(project, false)) else { return Ok(steps.close()) };
    let (listener, address) = serve::listen(DEV_PORT)?;
    drop(listener); // Trunk opens the port itself.
    println!("\nhttp://{address}/    reload after a change; Ctrl-C ends");
    let port = address.port().to_string();
    // Trunk's own reloading is an inline script, which the content security policy forbids.
    let arguments =
        ["serve", "--no-autoreload", "--address", "127.0.0.1", "--port", &port, "--dist", "target/dev-page"];
    fs::create_dir_all(project.path("target/dev-page")).map_err(Failure::io("target/dev-page"))?;
    hand_over(&mut kit.trunk(project, &arguments)?)?;
    Ok(ExitCode::SUCCESS)
}

/// All that building for WebAssembly needs.
pub(crate) struct Kit {
    toolchain: Toolchain,
    path: Vec<PathBuf>,
}

impl Kit {
    pub(crate) fn bring(project: &Project, release: bool) -> Result<Self, Failure> {
        let mut path = setup::page_tools(project)?;
        if release {
            path.extend(setup::wasm_opt(project)?);
        }
        let toolchain = wasm::toolchain()?;
        path.splice(0..0, toolchain.path(project));
        // Trunk runs offline, and the sources must be unpacked before their folders can be renamed.
        run(cargo().args(["fetch", "--quiet", "--locked"]).current_dir(project.root()))?;
        Ok(Self { toolchain, path })
    }

    /// Trunk with this toolchain; offline, so that it takes tools from PATH and downloads none of its own.
    fn trunk(&self, project: &Project, arguments: &[&str]) -> Result<Command, Failure> {
        let mut trunk = self.tool(project, "trunk")?;
        trunk.args(arguments).args(["--offline", "--skip-version-check"]);
        trunk.env_remove("NO_COLOR"); // Trunk 0.21 takes NO_COLOR=1 for a bad argument.
        Ok(trunk)
    }

    /// A program with this toolchain, looked for among the tools first.
    pub(crate) fn tool(&self, project: &Project, program: &str) -> Result<Command, Failure> {
        let mut command = Command::new(program);
        command.env("PATH", path_with(&self.path)?).current_dir(project.root());
        self.toolchain.lend_to(&mut command, project)?;
        Ok(command)
    }
}

/// What is built must not tell where it was built.
pub(crate) fn refuse_paths_of_this_machine(project: &Project, folder: &str) -> Result<(), Failure> {
    let private: Vec<String> = [Some(project.root().to_path_buf()), Some(wasm::cargo_home()?), env::home_dir()]
        .into_iter()
        .flatten()
        .filter(|folder| folder.parent().is_some()) // Some containers have / for a home.
        .map(|folder| format!("{}{MAIN_SEPARATOR}", folder.display()))
        .collect();
    for file in files_in(project, folder)? {
        let bytes = fs::read(&file).map_err(Failure::io(file.display()))?;
        for folder in private.iter().map(String::as_bytes) {
            if bytes.windows(folder.len()).any(|window| window == folder) {
                return Err(Failure::new(format!("{} holds a path of this machine", file.display())));
            }
        }
    }
    Ok(())
}

pub(crate) fn show_sizes(project: &Project, folder: &str) -> Result<(), Failure> {
    for file in files_in(project, folder)? {
        let length = fs::metadata(&file).map_err(Failure::io(file.display()))?.len();
        println!("{length:>10} bytes  {}", file.strip_prefix(project.root()).unwrap_or(&file).display());
    }
    Ok(())
}

/// Every file of a folder, in a fixed order.
fn files_in(project: &Project, folder: &str) -> Result<Vec<PathBuf>, Failure> {
    let (mut files, mut folders) = (Vec::new(), vec![project.path(folder)]);
    while let Some(folder) = folders.pop() {
        for entry in fs::read_dir(&folder).map_err(Failure::io(folder.display()))? {
            let path = entry.map_err(Failure::io(folder.display()))?.path();
            if path.is_dir() { &mut folders } else { &mut files }.push(path);
        }
    }
    files.sort();
    Ok(files)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_module_is_not_preloaded_and_what_first_js_reads_stays() {
        let trunk = "<link rel=\"modulepreload\" href=\"./a.js\"><link rel=\"preload\" href=\"./a.wasm\" integrity=\"d\" as=\"fetch\">";
        let without = without_preload(trunk).unwrap();
        assert_eq!(without, trunk.replace("rel=\"preload\"", "rel=\"module\""), "nothing else changes");
        assert!(
            include_str!("../../../web/first.js").contains("link[as=\"fetch\"]"),
            "first.js finds it by what stays"
        );
        for other in ["<link rel=\"modulepreload\">".to_owned(), trunk.repeat(2)] {
            assert!(without_preload(&other).is_err(), "{other}");
        }
    }
}
