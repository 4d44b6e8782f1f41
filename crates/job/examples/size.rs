//! Scripting door: a job file in, the report as JSON out; see README, "From a script".
#![expect(clippy::print_stdout, reason = "a command line program")]

use std::io::Read;
use std::process::ExitCode;
use stock::Stock;

fn main() -> ExitCode {
    let mut bytes = Vec::new();
    if let Err(why) = std::io::stdin().lock().read_to_end(&mut bytes) {
        eprintln!("cannot be read: {why}");
        return ExitCode::FAILURE;
    }
    let Ok(text) = String::from_utf8(bytes) else {
        eprintln!("line 1: not UTF-8 text");
        return ExitCode::FAILURE;
    };
    let report = match share::answer(&text, &Stock::built_in()) {
        Ok(report) => report,
        Err(why) => {
            eprintln!("{why}");
            return ExitCode::FAILURE;
        }
    };
    for problem in &report.problems {
        let run = problem.run.map_or(String::new(), |run| format!("run {}, ", run + 1));
        eprintln!("{run}{}: {}; right would be: {}", problem.field, problem.wrong, problem.right);
    }
    match serde_json::to_string_pretty(&report) {
        Ok(text) => println!("{text}"),
        Err(why) => {
            eprintln!("the report cannot be written: {why}");
            return ExitCode::FAILURE;
        }
    }
    ExitCode::SUCCESS
}
