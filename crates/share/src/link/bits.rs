//! A row of bits, most significant first, and how one is read back without running past its end.

use super::{BadLink, CannotLink};

/// Bits being written. That a number was none is kept until [`Writer::end`].
#[derive(Debug)]
pub(super) struct Writer {
    version: u8,
    bytes: Vec<u8>,
    not_a_number: bool,
    /// Bits still free in the last byte.
    free: u32,
}

impl Writer {
    /// For a link of this version.
    pub(super) fn new(version: u8) -> Self {
        Self { version, bytes: Vec::new(), not_a_number: false, free: 0 }
    }

    pub(super) fn version(&self) -> u8 {
        self.version
    }

    pub(super) fn bit(&mut self, bit: bool) {
        if self.free == 0 {
            self.bytes.push(0);
            self.free = 8;
        }
        self.free -= 1;
        if let Some(last) = self.bytes.last_mut() {
            *last |= u8::from(bit) << self.free;
        }
    }

    /// The low `width` bits of `value`.
    pub(super) fn bits(&mut self, value: u64, width: u32) {
        for at in (0..width).rev() {
            self.bit(value >> at & 1 == 1);
        }
    }

    /// Everything below the leading one of a value of `width` bits: the leading one is known.
    pub(super) fn below_leading(&mut self, value: u64, width: u32) {
        self.bits(value, width.saturating_sub(1));
    }

    /// How many bits there are.
    #[cfg(test)]
    pub(super) fn written(&self) -> usize {
        self.bytes.len() * 8 - self.free as usize
    }

    /// What was to be written cannot be.
    pub(super) fn not_a_number(&mut self) {
        self.not_a_number = true;
    }

    /// The bytes; what is left of the last one is zero.
    pub(super) fn end(self) -> Result<Vec<u8>, CannotLink> {
        if self.not_a_number { Err(CannotLink::NotANumber) } else { Ok(self.bytes) }
    }
}

/// How many bits a value has, from its leading one; 0 for 0.
pub(super) fn width(value: u64) -> u32 {
    u64::BITS - value.leading_zeros()
}

/// Bits being read. What is wrong is kept until [`Reader::end`], and everything after it is zeros, which end every list and
/// every text. So no field asks after each bit: that halved the code in wasm, from 26 kB to 14.
#[derive(Debug)]
pub(super) struct Reader<'a> {
    version: u8,
    bytes: &'a [u8],
    at: usize,
    wrong: Option<BadLink>,
}

impl<'a> Reader<'a> {
    /// Of a link of this version.
    pub(super) fn new(version: u8, bytes: &'a [u8]) -> Self {
        Self { version, bytes, at: 0, wrong: None }
    }

    pub(super) fn version(&self) -> u8 {
        self.version
    }

    /// What was read has no meaning.
    pub(super) fn unknown(&mut self, what: &'static str) {
        self.wrong.get_or_insert(BadLink::Unknown { what });
    }

    pub(super) fn bit(&mut self) -> bool {
        if self.wrong.is_some() {
            return false;
        }
        let Some(byte) = self.bytes.get(self.at / 8) else {
            self.wrong = Some(BadLink::Fields);
            return false;
        };
        let bit = byte >> (7 - self.at % 8) & 1 == 1;
        self.at += 1;
        bit
    }

    /// The next `width` bits, at most 64.
    pub(super) fn bits(&mut self, width: u32) -> u64 {
        (0..width).fold(0, |value, _| value << 1 | u64::from(self.bit()))
    }

    /// The next `width` bits, at most 8.
    pub(super) fn few(&mut self, width: u32) -> u8 {
        self.bits(width).to_le_bytes()[0]
    }

    /// The value of `width` bits, at most 64, of which all but the leading one come next.
    pub(super) fn below_leading(&mut self, width: u32) -> u64 {
        match width.checked_sub(1) {
            None => 0,
            Some(below) => 1 << below | self.bits(below),
        }
    }

    /// Nothing may have been wrong, and nothing may be left but the zeros that fill the last byte.
    pub(super) fn end(mut self) -> Result<(), BadLink> {
        let left = self.bytes.len() * 8 - self.at;
        let filled = left < 8 && (0..left).all(|_| !self.bit());
        match self.wrong {
            Some(wrong) => Err(wrong),
            None if filled => Ok(()),
            None => Err(BadLink::Fields),
        }
    }
}
