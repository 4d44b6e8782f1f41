//! Links whose body is damaged and whose check is put right again, so that what reads the body is tried; and plain damage.
//!
//! Wrapped here after the description of the format alone (`crates/share/src/link/mod.rs`): another program's writer.

use super::{Broken, Fate, Met, below, kind, rarely, slipped};
use crate::layouts::Draw;
use job::input::Input;
use share::link;

const BASE64URL: &[u8; 64] = b"ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_";
/// Figures for 0 to 7 bytes.
const FIGURES: [usize; 8] = [0, 3, 5, 8, 10, 13, 15, 17];
/// Of every released version.
const VERSIONS: u8 = 3;

/// The check of RFC 9580, section 6.1.1, after the C code there.
fn crc24(bytes: impl Iterator<Item = u8>) -> u32 {
    let mut crc = 0x00B7_04CE_u32;
    for byte in bytes {
        crc ^= u32::from(byte) << 16;
        for _ in 0..8 {
            crc <<= 1;
            if crc & 0x0100_0000 != 0 {
                crc ^= 0x0186_4CFB;
            }
        }
    }
    crc & 0x00FF_FFFF
}

/// A version and a body, as a link without its letters, length and check.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Bare {
    pub(crate) version: u8,
    pub(crate) body: Vec<u8>,
}

impl Bare {
    /// Of a sound link in base64url.
    pub(crate) fn of(text: &str) -> Option<Self> {
        let version = text.bytes().next()?.checked_sub(b'A').map(|place| place + 1)?;
        let code = text.get(1..)?.strip_suffix('0')?;
        let (mut bytes, mut value, mut bits) = (Vec::new(), 0_u32, 0);
        for c in code.bytes() {
            let digit = BASE64URL.iter().position(|known| *known == c)?;
            value = value << 6 | u32::try_from(digit).ok()?;
            bits += 6;
            if bits >= 8 {
                bits -= 8;
                bytes.push(u8::try_from(value >> bits & 0xff).ok()?);
            }
        }
        let body = bytes.get(1..bytes.len().checked_sub(3)?)?.to_vec();
        Some(Self { version, body })
    }

    /// The link with its length and its check put right; of a body of more than 255 bytes, of its beginning.
    pub(crate) fn wrapped(&self, in_figures: bool) -> String {
        let body = &self.body[..self.body.len().min(255)];
        let mut bytes = vec![u8::try_from(body.len()).unwrap_or(0)];
        bytes.extend(body);
        let check = crc24(std::iter::once(self.version).chain(bytes.iter().copied()));
        bytes.extend(&check.to_be_bytes()[1..]);
        let letter = if in_figures { b'a' } else { b'A' };
        let mut text = String::from(char::from(letter + self.version - 1));
        if in_figures {
            for group in bytes.chunks(7) {
                let value = group.iter().fold(0_u64, |value, byte| value << 8 | u64::from(*byte));
                text += &format!("{value:0width$}", width = FIGURES[group.len()]);
            }
            return text;
        }
        for group in bytes.chunks(3) {
            let value =
                group.iter().fold(0_u32, |value, byte| value << 8 | u32::from(*byte)) << (8 * (3 - group.len()));
            for place in 0..=group.len() {
                text.push(char::from(BASE64URL[(value >> (18 - 6 * place) & 63) as usize]));
            }
        }
        text + "0"
    }

    /// The body with bits flipped, lost, put in, moved or repeated, or that of another link behind its beginning.
    fn damage(&mut self, others: &[Self], draw: &mut Draw) {
        if rarely(draw, 12) {
            self.version = 1 + below(draw, VERSIONS.into()).to_le_bytes()[0];
        }
        if rarely(draw, 20) {
            self.body = (0..below(draw, 256)).map(|_| draw.bits().to_le_bytes()[0]).collect();
            return;
        }
        let mut bits = unpacked(&self.body);
        for _ in 0..=below(draw, 3) {
            let at = below(draw, bits.len());
            let few = (at + 1 + below(draw, 24)).min(bits.len());
            match below(draw, 8) {
                0..=2 if at < bits.len() => bits[at] = !bits[at],
                3 => drop(bits.drain(at..few)),
                4 => drop(bits.splice(at..at, (0..=below(draw, 70)).map(|_| draw.bits() & 1 == 1).collect::<Vec<_>>())),
                5 => {
                    let to = below(draw, bits.len());
                    drop(bits.splice(to..to, bits[at..few].to_vec()));
                }
                6 => {
                    let other = unpacked(&others[below(draw, others.len())].body);
                    bits.truncate(at);
                    bits.extend(&other[below(draw, other.len())..]);
                }
                _ => {
                    let all = draw.bits() & 1 == 1;
                    bits[at..few].fill(all);
                }
            }
        }
        self.body = packed(&bits);
    }
}

fn unpacked(bytes: &[u8]) -> Vec<bool> {
    bytes.iter().flat_map(|byte| (0..8).rev().map(move |at| byte >> at & 1 == 1)).collect()
}

fn packed(bits: &[bool]) -> Vec<u8> {
    bits.chunks(8)
        .map(|eight| eight.iter().zip((0..8).rev()).fold(0, |byte, (bit, at)| byte | u8::from(*bit) << at))
        .collect()
}

/// A sound link: its text in both forms, what it is without its wrapping, and what it opens to.
#[derive(Debug)]
pub(crate) struct Sound {
    texts: [String; 2],
    bare: Bare,
    input: String,
}

impl Sound {
    /// Of a link in either form; `None` if it is none, or too long to be written again.
    pub(crate) fn of(text: &str) -> Option<Self> {
        let input = link::read(text).ok()?;
        let texts = [link::write(&input).ok()?, link::write_digits(&input).ok()?];
        Some(Self { bare: Bare::of(&texts[0])?, texts, input: exact(&input) })
    }

    pub(crate) fn bare(&self) -> &Bare {
        &self.bare
    }

    pub(crate) fn texts(&self) -> &[String; 2] {
        &self.texts
    }
}

/// All of an input to the last bit, the two zeros apart.
fn exact(input: &Input) -> String {
    format!("{input:?}")
}

/// What is tried on a link.
#[derive(Debug)]
pub(crate) enum Drawn<'a> {
    /// Any text; what it opens to is anything.
    Any(String),
    /// One bit flipped or the end cut off: refused, or the same.
    Hurt(String, &'a Sound),
}

impl Drawn<'_> {
    pub(crate) fn text(&self) -> &str {
        let (Self::Any(text) | Self::Hurt(text, _)) = self;
        text
    }
}

/// Bodies damaged and wrapped again, and links hurt on their way.
pub(crate) fn drawn<'a>(sound: &'a [Sound], bare: &[Bare], draw: &mut Draw) -> Drawn<'a> {
    let from = &sound[below(draw, sound.len())];
    match below(draw, 10) {
        0..=4 => {
            let mut link = bare[below(draw, bare.len())].clone();
            link.damage(bare, draw);
            Drawn::Any(link.wrapped(rarely(draw, 4)))
        }
        5..=7 => {
            let mut bytes = from.texts[below(draw, 2)].clone().into_bytes();
            let at = below(draw, bytes.len());
            bytes[at] ^= 1 << below(draw, 8);
            // A flip of the highest bit leaves no UTF-8, and comes to the page as what stands in its place.
            Drawn::Hurt(String::from_utf8_lossy(&bytes).into_owned(), from)
        }
        8 => {
            let text = &from.texts[below(draw, 2)];
            Drawn::Hurt(text[..below(draw, text.len())].to_owned(), from)
        }
        _ => Drawn::Any(slipped(&from.texts[below(draw, 2)], draw)),
    }
}

/// Reads a link, and holds what must be true of what it opens to.
pub(crate) fn read(drawn: &Drawn<'_>) -> Result<Met, Broken> {
    let text = drawn.text();
    let input = match link::read(text) {
        Err(why) => {
            let words = why.to_string();
            return if words.is_empty() { Err("refused without a word".to_owned()) } else { Ok(Met::refused(&words)) };
        }
        Ok(input) => input,
    };
    if let Drawn::Hurt(_, sound) = drawn
        && exact(&input) != sound.input
    {
        return Err(format!("a hurt link opens to another job: {input:?}"));
    }
    match link::write(&input) {
        Ok(again) => {
            let back = link::read(&again).map_err(|why| format!("written as {again}, which is refused: {why}"))?;
            if exact(&back) != exact(&input) {
                return Err(format!("written as {again}, which opens to another job"));
            }
        }
        // A body of up to 255 bytes is read; of what is written, some 20 less.
        Err(link::CannotLink::TooLong { .. }) => {}
        Err(why) => return Err(format!("what a link opens to cannot be written: {why}")),
    }
    let job::Accepted { problems, .. } = job::accept(&input);
    let mut seen: Vec<_> = problems.iter().map(|problem| kind(&problem.wrong)).collect();
    if problems.is_empty() {
        seen.push("sound".to_owned());
    }
    Ok(Met { fate: Fate::Accepted, seen })
}
