//! All that crosses between the page and the solver worker: two closed enums, posted as bytes.

use super::crossing::{Cross, Reader};
use job::Report;
use js_sys::Uint8Array;
use wasm_bindgen::{JsCast, JsValue};

/// Page to solver.
#[derive(Clone, Debug, PartialEq)]
pub enum Ask {
    /// Solve a job.
    Solve {
        /// Returned with the answer; the newest wins.
        ticket: u32,
        /// The job file's text.
        job: String,
        /// How much of it.
        want: Want,
    },
}

/// How much is asked.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Want {
    /// All that can be told of its runs.
    Run,
    /// What the lists of a whole car need.
    Car,
}

/// Solver to page.
#[derive(Clone, Debug, PartialEq)]
pub enum Tell {
    /// It listens; what is posted before is lost.
    Ready {
        /// Which build it is.
        build: String,
    },
    /// The answer of the first hose, while the others are worked out.
    Part {
        /// The ticket of the question.
        ticket: u32,
        /// The report.
        report: Report,
    },
    /// The answer.
    Done {
        /// The ticket of the question.
        ticket: u32,
        /// The report.
        report: Report,
    },
    /// So many runs of a whole car are solved.
    Progress {
        /// The ticket of the question.
        ticket: u32,
        /// How many.
        done: usize,
        /// Of how many.
        of: usize,
    },
    /// The answer for a whole car.
    Car {
        /// The ticket of the question.
        ticket: u32,
        /// The report.
        report: Report,
    },
    /// The job's text is not a job file.
    Fault {
        /// The ticket of the question.
        ticket: u32,
        /// What is wrong with it.
        text: String,
    },
}

/// The build of this module: a page and a solver of different builds must not talk.
#[must_use]
pub fn build() -> String {
    env!("CARGO_PKG_VERSION").to_owned()
}

impl Cross for Ask {
    fn write(&self, to: &mut Vec<u8>) {
        let Self::Solve { ticket, job, want } = self;
        ticket.write(to);
        job.write(to);
        (*want == Want::Car).write(to);
    }

    fn read(from: &mut Reader<'_>) -> Self {
        let (ticket, job) = (Cross::read(from), Cross::read(from));
        Self::Solve { ticket, job, want: if Cross::read(from) { Want::Car } else { Want::Run } }
    }
}

impl Cross for Tell {
    fn write(&self, to: &mut Vec<u8>) {
        match self {
            Self::Ready { build } => {
                0_u32.write(to);
                build.write(to);
            }
            Self::Done { ticket, report } => {
                1_u32.write(to);
                ticket.write(to);
                report.write(to);
            }
            Self::Fault { ticket, text } => {
                2_u32.write(to);
                ticket.write(to);
                text.write(to);
            }
            Self::Part { ticket, report } => {
                3_u32.write(to);
                ticket.write(to);
                report.write(to);
            }
            Self::Car { ticket, report } => {
                4_u32.write(to);
                ticket.write(to);
                report.write(to);
            }
            Self::Progress { ticket, done, of } => {
                5_u32.write(to);
                ticket.write(to);
                done.write(to);
                of.write(to);
            }
        }
    }

    fn read(from: &mut Reader<'_>) -> Self {
        match u32::read(from) {
            0 => Self::Ready { build: Cross::read(from) },
            1 => Self::Done { ticket: Cross::read(from), report: Cross::read(from) },
            2 => Self::Fault { ticket: Cross::read(from), text: Cross::read(from) },
            3 => Self::Part { ticket: Cross::read(from), report: Cross::read(from) },
            4 => Self::Car { ticket: Cross::read(from), report: Cross::read(from) },
            5 => Self::Progress { ticket: Cross::read(from), done: Cross::read(from), of: Cross::read(from) },
            _ => {
                from.wrong();
                Self::Ready { build: String::new() }
            }
        }
    }
}

impl Tell {
    /// The bytes in which it is posted.
    #[must_use]
    pub fn packed(&self) -> Vec<u8> {
        packed(self)
    }
}

/// A message as it is posted.
pub(super) fn posted(message: &impl Cross) -> JsValue {
    Uint8Array::from(packed(message).as_slice()).into()
}

/// A message that was posted; `None` if it is not one of ours.
pub(super) fn received<T: Cross>(data: &JsValue) -> Option<T> {
    unpacked(&data.dyn_ref::<Uint8Array>()?.to_vec())
}

fn packed(message: &impl Cross) -> Vec<u8> {
    let mut bytes = Vec::new();
    message.write(&mut bytes);
    bytes
}

fn unpacked<T: Cross>(bytes: &[u8]) -> Option<T> {
    let mut from = Reader::new(bytes);
    let message = T::read(&mut from);
    from.is_at_end().then_some(message)
}

#[cfg(test)]
mod tests {
    use super::*;

    fn report() -> Report {
        share::answer(crate::example::EXAMPLE, &stock::Stock::built_in()).expect("the example is a job file")
    }

    #[test]
    fn what_is_packed_is_unpacked() {
        for want in [Want::Run, Want::Car] {
            let ask = Ask::Solve { ticket: 7, job: "a text, 5 µm".to_owned(), want };
            assert_eq!(unpacked(&packed(&ask)), Some(ask));
        }
        for tell in [
            Tell::Ready { build: build() },
            Tell::Done { ticket: u32::MAX, report: report() },
            Tell::Fault { ticket: 0, text: String::new() },
            Tell::Part { ticket: 9, report: report() },
            Tell::Car { ticket: 9, report: report() },
            Tell::Progress { ticket: 9, done: 3, of: 40 },
        ] {
            assert_eq!(unpacked(&packed(&tell)), Some(tell));
        }
    }

    #[test]
    fn bytes_that_are_cut_off_or_too_many_are_no_message() {
        let whole = packed(&Tell::Done { ticket: 1, report: report() });
        for end in (0..whole.len()).step_by(61) {
            assert_eq!(unpacked::<Tell>(&whole[..end]), None, "cut off after {end}");
        }
        assert_eq!(unpacked::<Tell>(&[&whole[..], &[0]].concat()), None, "a byte too many");
        assert_eq!(unpacked::<Tell>(&[u8::MAX; 40]), None, "no such message");
    }
}
