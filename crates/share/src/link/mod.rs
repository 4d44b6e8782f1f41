//! One run as a link, short enough for a chat message and a QR code.
//!
//! [`write`](write()) gives what stands behind the `#` of an address: the part that no server is sent. It carries one run with
//! everything that a job file can hold for it, the conditions and the name of the car; [`read`] gives the same input to
//! the last bit, so that another phone tells the same answer. [`write_digits`] gives the same in decimal figures, which a
//! QR code packs more tightly; [`read`] takes both.
//!
//! # The format, for another program
//!
//! ```text
//! A  base64url of the bytes  0          A: version 1, B: version 2, C: 3
//! a  decimal figures of the bytes       a: version 1, b: version 2, c: 3
//!
//! bytes = length (1 byte)  body (so many bytes)  check (3 bytes)
//! ```
//!
//! - **First letter**: the version, A for 1, B for 2, C for 3; a capital before base64url, a small letter before figures.
//! - **base64url**: RFC 4648, section 5, without padding. The 0 after it is there because chat programs take a final `-` or
//!   `_` for punctuation and leave it out of the link.
//! - **Figures**: every 7 bytes, read as one number, first byte highest, in 17 figures with leading zeros; a rest of 1, 2,
//!   3, 4, 5 or 6 bytes in 3, 5, 8, 10, 13 or 15.
//! - **length**: bytes of the body, so that a cut link is told from a damaged one.
//! - **check**: CRC-24 of RFC 9580, section 6.1 (`OpenPGP`), over the version as one byte, the length and the body; highest byte
//!   first. It finds every error within 24 bits, that is four characters, and all but one in 16 million of the others. It
//!   finds damage, not malice.
//! - **body**: a row of bits, highest first, the last byte filled with zeros: the name of the car, the conditions, the run, as
//!   `fields.rs` lists them, with numbers after `number.rs` and texts after `text.rs`.
//!
//! First letter, length and check are the same in every version to come, so that a sound link of a newer program is
//! known as such. Nothing in the body carries a size that memory is taken for, and nothing is nested to any depth.
//! A version that was released is not changed: another body is another letter.
//!
//! ```
//! let file = r#"{"format":"hosewright-job","version":1,"runs":[{"from":{"spigot_mm":16,"at_mm":[0,0,0],"points":[1,0,0]},
//!     "to":{"spigot_mm":16,"at_mm":[230,0,0],"points":[-1,0,0]}}]}"#;
//! let input = share::read(file)?.input;
//! let link = share::link::write(&input)?;
//! assert!(link.len() < 30);
//! assert_eq!(share::link::read(&format!("<https://example.org/#{link}>."))?, input);
//! # Ok::<(), Box<dyn std::error::Error>>(())
//! ```

mod bits;
mod fields;
mod letters;
mod number;
mod refusals;
mod text;

pub use refusals::{BadLink, CannotLink};

use bits::{Reader, Writer};
use crc::{CRC_24_OPENPGP, Crc, NoTable};
use fields::Field;
use job::input::Input;
use letters::{BASE64URL, FIGURES, Form};

/// Most characters of a link without its address: a QR code of 69 by 69 modules at level M holds it with 26 characters of
/// address (ISO/IEC 18004, version 13). Our choice.
pub const LONGEST: usize = 300;
/// Longest text in which a link is looked for, bytes.
pub const LONGEST_READ: usize = 4096;

/// The newest version that is written, and the oldest: a run that the oldest says all of is written in that.
const VERSION: u8 = 3;
const OLDEST: u8 = 1;

const CRC: Crc<u32, NoTable> = Crc::<u32, NoTable>::new(&CRC_24_OPENPGP);
/// Bytes of the check.
const CHECK: usize = 3;
/// Ends a link in base64url.
const TERMINATOR: &str = "0";
/// Characters of the first full group of figures and its letter; two spigots alone take more in either form.
const SHORTEST: usize = 18;

/// Writes a link: what stands behind the `#`.
///
/// Equal inputs give equal links. At most [`LONGEST`] characters, of `A`–`Z`, `a`–`z`, `0`–`9`, `-` and `_`; the first and
/// the last are neither `-` nor `_`.
///
/// # Errors
/// [`CannotLink`] if there is not exactly one run, or it does not fit.
pub fn write(input: &Input) -> Result<String, CannotLink> {
    let (version, bytes) = payload(input)?;
    Ok(format!("{}{}{TERMINATOR}", letter(b'A', version), BASE64URL.write(&bytes)))
}

/// Writes the same for the numeric mode of a QR code: one letter, then decimal figures only.
///
/// # Errors
/// As [`write`](write()), with the same limit: what goes into one form goes into the other.
pub fn write_digits(input: &Input) -> Result<String, CannotLink> {
    let (version, bytes) = payload(input)?;
    Ok(format!("{}{}", letter(b'a', version), FIGURES.write(&bytes)))
}

/// Reads a link in either form.
///
/// Takes an address with the link behind its `#`, or the link alone; with spaces, line breaks, brackets, quotes or
/// punctuation round it, and with line breaks in it.
///
/// # Errors
/// [`BadLink`]: what is wrong, as far as can be told. Never panics.
pub fn read(text: &str) -> Result<Input, BadLink> {
    if text.len() > LONGEST_READ {
        return Err(BadLink::TooLong);
    }
    let (_, code) = text.rsplit_once('#').unwrap_or(("", text));
    let code = code.trim_start_matches(|c: char| !c.is_ascii_alphanumeric());
    let first = code.split_whitespace().next().unwrap_or("");
    // A mail program may have broken the line; or what follows are words that do not belong to it.
    read_code(first).or_else(|why| read_code(&code.split_whitespace().collect::<String>()).map_err(|_| why))
}

/// The first letter of a version.
fn letter(first: u8, version: u8) -> char {
    char::from(first + version - 1)
}

/// The oldest version that says all of a job, and its length, body and check.
fn payload(input: &Input) -> Result<(u8, Vec<u8>), CannotLink> {
    let [run] = input.runs.as_slice() else { return Err(CannotLink::Runs { runs: input.runs.len() }) };
    let one = Input {
        car: input.car.clone(),
        conditions: input.conditions.clone(),
        runs: vec![run.clone()],
        ..Input::default()
    };
    let body = |version: u8| {
        let mut body = Writer::new(version);
        one.car.write(&mut body);
        one.conditions.write(&mut body);
        run.write(&mut body);
        body.end()
    };
    let says_all = |version: u8, body: &[u8]| read_body(version, body).is_ok_and(|read| read == one);
    let mut version = OLDEST;
    let mut written = body(version)?;
    while version < VERSION && !says_all(version, &written) {
        version += 1;
        written = body(version)?;
    }
    let body = written;
    let length = 1 + BASE64URL.characters(1 + body.len() + CHECK) + TERMINATOR.len();
    let too_long = CannotLink::TooLong { length };
    if length > LONGEST {
        return Err(too_long);
    }
    let mut bytes = vec![u8::try_from(body.len()).map_err(|_| too_long)?];
    bytes.extend(body);
    let check = check(version, &bytes);
    bytes.extend(check);
    Ok((version, bytes))
}

fn read_body(version: u8, body: &[u8]) -> Result<Input, BadLink> {
    let mut body = Reader::new(version, body);
    let (car, conditions, run) = (Field::read(&mut body), Field::read(&mut body), Field::read(&mut body));
    body.end()?;
    Ok(Input { car, conditions, runs: vec![run], ..Input::default() })
}

fn check(version: u8, bytes: &[u8]) -> [u8; CHECK] {
    let mut digest = CRC.digest();
    digest.update(&[version]);
    digest.update(bytes);
    let [_, check @ ..] = digest.finalize().to_be_bytes();
    check
}

fn read_code(code: &str) -> Result<Input, BadLink> {
    let code = code.trim_end_matches(|c: char| !c.is_ascii_alphanumeric());
    let letter = code.bytes().next().filter(u8::is_ascii_alphabetic).ok_or(BadLink::NotALink)?;
    if code.len() < SHORTEST {
        return Err(BadLink::NotALink);
    }
    let version = letter.to_ascii_uppercase() - b'A' + 1;
    let (form, terminator) = if letter.is_ascii_uppercase() { (&BASE64URL, TERMINATOR) } else { (&FIGURES, "") };
    let bytes = unwrapped(form, terminator, &code[1..]);
    // A long word with a capital looks like the beginning of a link of some version: only a whole one is believed.
    let known = (OLDEST..=VERSION).contains(&version);
    let bytes = bytes.map_err(|why| if known || why == BadLink::Damaged { why } else { BadLink::NotALink })?;
    let (body, said) = bytes.split_at(bytes.len() - CHECK);
    if check(version, body) != said {
        return Err(BadLink::Damaged);
    }
    is_read(version, OLDEST, VERSION)?;
    read_body(version, &body[1..])
}

/// The bytes of a link without its first letter, as many as it says itself: never less than length and check.
fn unwrapped(form: &Form, terminator: &str, text: &str) -> Result<Vec<u8>, BadLink> {
    if !form.knows(text) {
        return Err(BadLink::NotALink);
    }
    let head = form.read(&text[..form.group_characters()]).ok_or(BadLink::Damaged)?;
    let length = 1 + usize::from(head[0]) + CHECK;
    let characters = form.characters(length) + terminator.len();
    if let Some(missing) = characters.checked_sub(text.len()).filter(|missing| *missing > 0) {
        return Err(BadLink::Cut { missing });
    }
    let code = text.strip_suffix(terminator).ok_or(BadLink::Damaged)?;
    form.read(code).filter(|bytes| bytes.len() == length).ok_or(BadLink::Damaged)
}

fn is_read(version: u8, oldest: u8, newest: u8) -> Result<(), BadLink> {
    if version < oldest {
        return Err(BadLink::Older { version });
    }
    if version > newest {
        return Err(BadLink::Newer { version });
    }
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A sound link around any body.
    fn wrapped(version: u8, body: &[u8]) -> String {
        let mut bytes = vec![u8::try_from(body.len()).expect("short")];
        bytes.extend(body);
        bytes.extend(check(version, &bytes));
        format!("{}{}{TERMINATOR}", char::from(b'A' + version - 1), BASE64URL.write(&bytes))
    }

    #[test]
    fn the_check_is_that_of_the_standard() {
        // The check value of CRC-24/OPENPGP over "123456789" in the catalogue of parametrised CRC algorithms: 0x21cf02.
        assert_eq!(check(b'1', b"23456789"), [0x21, 0xcf, 0x02]);
    }

    #[test]
    fn versions_are_told_apart() {
        assert_eq!(is_read(1, 2, 3), Err(BadLink::Older { version: 1 }));
        assert_eq!((is_read(2, 2, 3), is_read(3, 2, 3)), (Ok(()), Ok(())));
        assert_eq!(is_read(4, 2, 3), Err(BadLink::Newer { version: 4 }));
        for version in VERSION + 1..=26 {
            assert_eq!(read(&wrapped(version, &[7; 40])), Err(BadLink::Newer { version }));
        }
    }

    #[test]
    fn a_sound_link_with_a_strange_body_is_refused() {
        for body in [vec![0xff; 255], vec![0; 255], vec![0x55; 60], vec![0xaa; 17], Vec::new(), vec![0; 10]] {
            for version in OLDEST..=VERSION {
                let refused = read(&wrapped(version, &body));
                assert!(refused.is_err(), "{version} {body:?}: {refused:?}");
            }
        }
    }

    #[test]
    fn a_body_that_does_not_end_with_its_fields_is_refused() {
        let end = r#"{"spigot_mm":16,"at_mm":[0,0,0],"points":[1,0,0]}"#;
        let file = format!(r#"{{"format":"hosewright-job","version":1,"runs":[{{"from":{end},"to":{end}}}]}}"#);
        let (version, bytes) = payload(&crate::read(&file).expect("a job").input).expect("one run");
        assert_eq!(version, 1);
        let body = &bytes[1..bytes.len() - CHECK];
        assert!(read(&wrapped(version, body)).is_ok());
        assert_eq!(read(&wrapped(version, &[body, &[0]].concat())), Err(BadLink::Fields), "a byte too many");
        assert_eq!(read(&wrapped(version, &body[..body.len() - 1])), Err(BadLink::Fields), "a byte too few");
        // 79 bits: car, 10 conditions, twice 11 flags, a number of 9 bits and two triples of 4, and 12 flags of the run.
        assert_eq!(body.len(), 10);
        let mut filled = body.to_vec();
        *filled.last_mut().expect("bytes") |= 1;
        assert_eq!(read(&wrapped(version, &filled)), Err(BadLink::Fields), "a one where zeros fill");
    }
}
