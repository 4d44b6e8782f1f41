//! Bytes as characters, in the two alphabets of a link.

/// How bytes become characters: groups of bytes are read as one number, first byte highest, and written in the radix of
/// the alphabet, highest place first.
#[derive(Debug)]
pub(super) struct Form {
    alphabet: &'static str,
    /// For a group of 0, 1, 2 … bytes: its characters, and the zero bits put after the bytes. The last is a full group.
    groups: &'static [(usize, u32)],
}

/// base64url without padding (RFC 4648, section 5).
pub(super) static BASE64URL: Form = Form {
    alphabet: "ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz0123456789-_",
    groups: &[(0, 0), (2, 4), (3, 2), (4, 0)],
};

/// Decimal figures, which the numeric mode of a QR code (ISO/IEC 18004) packs three to 10 bits: 7 bytes in 17 figures is
/// 1.2 % longer than the bytes; the least number of figures for every shorter group.
pub(super) static FIGURES: Form =
    Form { alphabet: "0123456789", groups: &[(0, 0), (3, 0), (5, 0), (8, 0), (10, 0), (13, 0), (15, 0), (17, 0)] };

impl Form {
    /// Bytes in a full group.
    fn group(&self) -> usize {
        self.groups.len() - 1
    }

    /// Characters of a full group.
    pub(super) fn group_characters(&self) -> usize {
        self.groups[self.group()].0
    }

    /// Characters for so many bytes.
    pub(super) fn characters(&self, bytes: usize) -> usize {
        bytes / self.group() * self.group_characters() + self.groups[bytes % self.group()].0
    }

    pub(super) fn knows(&self, text: &str) -> bool {
        text.chars().all(|c| self.alphabet.contains(c))
    }

    pub(super) fn write(&self, bytes: &[u8]) -> String {
        let radix = self.alphabet.len() as u64;
        let mut text = String::with_capacity(self.characters(bytes.len()));
        for group in bytes.chunks(self.group()) {
            let (characters, zeros) = self.groups[group.len()];
            let value = group.iter().fold(0_u64, |value, byte| value << 8 | u64::from(*byte)) << zeros;
            for place in (0..characters).rev() {
                let digit = (0..place).fold(value, |value, _| value / radix) % radix;
                text.push(char::from(self.alphabet.as_bytes()[usize::from(digit.to_le_bytes()[0])]));
            }
        }
        text
    }

    /// The bytes; `None` if a character is not of the alphabet or no bytes are written so.
    pub(super) fn read(&self, text: &str) -> Option<Vec<u8>> {
        let radix = self.alphabet.len() as u64;
        let mut bytes = Vec::with_capacity(text.len());
        for group in text.as_bytes().chunks(self.group_characters()) {
            let n = self.groups.iter().position(|(characters, _)| *characters == group.len())?;
            let value = group.iter().try_fold(0_u64, |value, c| {
                let digit = self.alphabet.bytes().position(|known| known == *c)?;
                Some(value * radix + digit as u64)
            })?;
            let zeros = self.groups[n].1;
            let whole = value >> zeros;
            if whole << zeros != value || whole >> (8 * n) != 0 {
                return None;
            }
            bytes.extend_from_slice(&whole.to_be_bytes()[8 - n..]);
        }
        Some(bytes)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn base64url_is_that_of_the_standard() {
        // RFC 4648, section 10, without padding; the last is 0xfb 0xff, which tells the two alphabets apart.
        let vectors: [(&[u8], &str); 8] = [
            (b"", ""),
            (b"f", "Zg"),
            (b"fo", "Zm8"),
            (b"foo", "Zm9v"),
            (b"foob", "Zm9vYg"),
            (b"fooba", "Zm9vYmE"),
            (b"foobar", "Zm9vYmFy"),
            (&[0xfb, 0xff], "-_8"),
        ];
        for (bytes, text) in vectors {
            assert_eq!(BASE64URL.write(bytes), text);
            assert_eq!(BASE64URL.read(text).as_deref(), Some(bytes));
        }
        for wrong in ["Z", "Zh", "Zm9", "Zm9vY", "Zg==", "Zm+v", "Zm 9"] {
            assert_eq!(BASE64URL.read(wrong), None, "{wrong}");
        }
    }

    #[test]
    fn figures_are_the_number_that_the_bytes_are() {
        // 256^7 - 1 = 72057594037927935; 256^2 - 1 = 65535.
        assert_eq!(FIGURES.write(&[255; 7]), "72057594037927935");
        assert_eq!(FIGURES.write(&[255; 9]), "7205759403792793565535");
        for n in 0..40_u8 {
            let bytes: Vec<u8> = (0..n).map(|i| i.wrapping_mul(n).wrapping_sub(7)).collect();
            let text = FIGURES.write(&bytes);
            assert_eq!(text.len(), FIGURES.characters(bytes.len()));
            assert_eq!(FIGURES.read(&text), Some(bytes));
        }
        for wrong in ["256", "72057594037927936", "99999999999999999", "1", "12a"] {
            assert_eq!(FIGURES.read(wrong), None, "{wrong}");
        }
    }
}
