//! Text that a file says of itself and that is not drawn: what it is called, its outline, its metadata. Whatever it says must not read
//! like a part of a file, neither here nor after a program saved it again, or a check takes the file for one that can be read in two
//! ways (`strict/marks.rs`).

use lopdf::{Object, StringFormat};

/// What words of a file's frame hold: `startxref`, `endobj`, `12 0 obj`, `endstream`, `%%EOF` and the like.
const FRAME: [&str; 5] = ["obj", "stream", "xref", "trailer", "%"];

/// A text as a string (ISO 32000-1, 7.9.2.2): in UTF-16, which no saver writes in letters that stand beside each other, unless it is
/// plain and holds no such word and nothing that is no letter.
pub(super) fn text_string(text: &str) -> Object {
    if text.is_ascii() && !text.contains(char::is_control) && !FRAME.iter().any(|word| text.contains(word)) {
        return Object::string_literal(text);
    }
    let units = std::iter::once(0xFEFF).chain(text.encode_utf16());
    Object::String(units.flat_map(u16::to_be_bytes).collect(), StringFormat::Hexadecimal)
}

/// What a file is called, by whom and for what, with a dot after the first sign of such words: some savers write these facts anew in
/// plain letters. A trailer alone is a vehicle.
pub(super) fn parted(text: &str) -> String {
    let is_vehicle = !text.contains(['<', '%']);
    let words = [" obj", "endobj", "endstream", "xref", "%%EOF", "trailer"];
    words.iter().filter(|word| **word != "trailer" || !is_vehicle).fold(text.to_owned(), |text, word| {
        let (first, rest) = word.split_at(1);
        text.replace(word, &format!("{first}\u{b7}{rest}"))
    })
}

/// A text as it stands in XML, with the first letter of such words as a number.
pub(super) fn xml(text: &str) -> String {
    let text = text.replace('&', "&amp;").replace('<', "&lt;").replace('>', "&gt;");
    FRAME.iter().fold(text, |text, word| {
        let (first, rest) = word.split_at(1);
        let number = first.bytes().fold(0, |_, byte| byte);
        text.replace(word, &format!("&#{number};{rest}"))
    })
}
