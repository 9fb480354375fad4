//! The word that proves a page was opened by whoever started the server.

use std::{fmt::Write as _, io};

/// 128 bits from the operating system, made anew at every start.
#[derive(Clone, PartialEq, Eq)]
pub(crate) struct Token(String);

impl Token {
    /// Draws one.
    pub(crate) fn new() -> io::Result<Self> {
        let mut bytes = [0_u8; 16];
        getrandom::fill(&mut bytes).map_err(io::Error::other)?;
        let mut text = String::new();
        for byte in bytes {
            // Writing to a String cannot fail.
            let _written = write!(text, "{byte:02x}");
        }
        Ok(Self(text))
    }

    /// As it is written in an address.
    pub(crate) fn text(&self) -> &str {
        &self.0
    }

    /// Whether `given` is it, in a time that does not tell how much of it is right.
    pub(crate) fn is(&self, given: &[u8]) -> bool {
        let own = self.0.as_bytes();
        let differs = own.iter().zip(given).fold(0, |all, (a, b)| all | (a ^ b));
        std::hint::black_box(differs) == 0 && own.len() == given.len()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_the_whole_token_is_it() {
        let token = Token::new().unwrap();
        let text = token.text().to_owned();
        assert!(text.len() == 32 && token.is(text.as_bytes()));
        assert!(!token.is(b"") && !token.is(&text.as_bytes()[..31]));
        assert!(!token.is(format!("{text}0").as_bytes()));
        assert!(!token.is(Token::new().unwrap().text().as_bytes()));
        let wrong = format!("{}{}", if text.starts_with('0') { '1' } else { '0' }, &text[1..]);
        assert!(!token.is(wrong.as_bytes()));
    }
}
