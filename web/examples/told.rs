//! What the solver worker posts of a job file, worked out without a browser: `told run` and `told car` read the file from
//! standard input and write the bytes of the answer, told to ticket 0, to standard output.

use share::Answering;
use std::error::Error;
use std::io::{Read, Write};
use stock::Stock;
use web::solver::messages::Tell;

fn main() -> Result<(), Box<dyn Error>> {
    let mut job = String::new();
    std::io::stdin().read_to_string(&mut job)?;
    let (stock, ticket) = (Stock::built_in(), 0);
    let tell = match std::env::args().nth(1).as_deref() {
        Some("run") => Tell::Done { ticket, report: share::answer(&job, &stock)? },
        Some("car") => {
            let mut answering = Answering::begin(&job, None)?;
            while !answering.is_known() {
                answering.step(&stock);
            }
            Tell::Car { ticket, report: answering.car(&stock) }
        }
        _ => return Err("told run or told car".into()),
    };
    std::io::stdout().write_all(&tell.packed())?;
    Ok(())
}
