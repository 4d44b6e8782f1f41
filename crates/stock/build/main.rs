//! Turns the tables of `data/` into Rust statics; a wrong row stops the build and says where it is.

mod table;
mod tables;

use std::{env, fs, path::Path, process::ExitCode};
use table::Wrong;

#[expect(clippy::print_stdout, reason = "how a build script talks to cargo")]
fn main() -> ExitCode {
    println!("cargo::rerun-if-changed=data");
    let data = Path::new(env!("CARGO_MANIFEST_DIR")).join("data");
    let open = |file: &str| fs::read_to_string(data.join(file)).map_err(|why| Wrong::file(file, &why.to_string()));
    let rust = match tables::as_rust(open) {
        Ok(rust) => rust,
        Err(wrong) => {
            println!("cargo::error={wrong}");
            return ExitCode::FAILURE;
        }
    };
    let out = env::var_os("OUT_DIR").expect("cargo sets OUT_DIR for every build script");
    fs::write(Path::new(&out).join("tables.rs"), rust).expect("cargo's own folder can be written");
    ExitCode::SUCCESS
}
