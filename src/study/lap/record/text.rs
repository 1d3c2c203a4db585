//! The text of a logger's file, in whichever encoding it was saved.

/// What Windows puts on the codes that Latin 1 leaves to control characters, from 0x80 on.
const WINDOWS: [char; 32] = [
    '€', '\u{81}', '‚', 'ƒ', '„', '…', '†', '‡', 'ˆ', '‰', 'Š', '‹', 'Œ', '\u{8d}', 'Ž', '\u{8f}', '\u{90}',
    '‘', '’', '“', '”', '•', '–', '—', '˜', '™', 'š', '›', 'œ', '\u{9d}', 'ž', 'Ÿ',
];
/// Bytes by which UTF-16 without its mark is known.
const LOOKED_AT: usize = 400;

/// The text, and what was done to read it where that was not plain UTF-8.
pub(super) fn decoded(bytes: Vec<u8>) -> (String, Option<&'static str>) {
    if let Some(little) = utf_16(&bytes) {
        let from = if bytes.starts_with(&[0xff, 0xfe]) || bytes.starts_with(&[0xfe, 0xff]) { 2 } else { 0 };
        let pair = |pair: &[u8]| match (pair, little) {
            ([a, b], true) => u16::from_le_bytes([*a, *b]),
            ([a, b], false) => u16::from_be_bytes([*a, *b]),
            _ => 0xfffd,
        };
        let units = bytes[from..].chunks(2).map(pair);
        let text = char::decode_utf16(units).map(|c| c.unwrap_or(char::REPLACEMENT_CHARACTER)).collect();
        return (text, Some("the file was saved as UTF-16 and read as such"));
    }
    match String::from_utf8(bytes) {
        Ok(text) => match text.strip_prefix('\u{feff}') {
            Some(rest) => (rest.to_string(), None),
            None => (text, None),
        },
        Err(error) => {
            let letter = |byte: &u8| match byte {
                0x80..=0x9f => WINDOWS[usize::from(*byte - 0x80)],
                byte => char::from(*byte),
            };
            let text = error.as_bytes().iter().map(letter).collect();
            (text, Some("the file is no UTF-8 and was read as Windows-1252"))
        }
    }
}

/// Whether it is UTF-16, and then whether the lower byte comes first.
fn utf_16(bytes: &[u8]) -> Option<bool> {
    if bytes.starts_with(&[0xff, 0xfe]) {
        return Some(true);
    }
    if bytes.starts_with(&[0xfe, 0xff]) {
        return Some(false);
    }
    let head = &bytes[..bytes.len().min(LOOKED_AT)];
    let zeros = |odd: usize| head.iter().skip(odd).step_by(2).filter(|byte| **byte == 0).count();
    let most = head.len() / 2;
    if most >= 8 && zeros(1) * 10 > most * 8 && zeros(0) * 10 < most {
        return Some(true);
    }
    (most >= 8 && zeros(0) * 10 > most * 8 && zeros(1) * 10 < most).then_some(false)
}
