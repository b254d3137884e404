//! Findings shown at their place in the source.

use annotate_snippets::renderer::DecorStyle;
use annotate_snippets::{AnnotationKind, Level, Origin, Renderer, Snippet};
use jsonc_parser::ast::Value;
use jsonc_parser::common::Ranged;
use jsonc_parser::{CollectOptions, ParseOptions, parse_to_ast};
use matchmark_core::document::{Finding, Severity};
use std::io::IsTerminal;
use std::ops::Range;

/// Bytes above which a value is not marked whole.
const LONG: usize = 60;

/// Bytes that are shown of a line before and after the mark: more than a terminal is wide.
const BESIDE: usize = 200;

/// A source to show findings in.
pub struct Excerpts<'a> {
    name: &'a str,
    text: &'a str,
    lines: Lines<'a>,
    tree: Option<Value<'a>>,
    /// Where reading stopped, in a text that is not JSON.
    stopped: Range<usize>,
    renderer: Renderer,
}

impl<'a> Excerpts<'a> {
    /// A source and the name to call it by.
    pub fn new(name: &'a str, text: &'a str) -> Self {
        let text = text.strip_prefix('\u{feff}').unwrap_or(text);
        let strict = ParseOptions {
            allow_comments: false,
            allow_loose_object_property_names: false,
            allow_trailing_commas: false,
            allow_missing_commas: false,
            allow_single_quoted_strings: false,
            allow_hexadecimal_numbers: false,
            allow_unary_plus_numbers: false,
            allow_bare_decimal_point_numbers: false,
            allow_non_finite_numbers: false,
            allow_extended_string_escapes: false,
        };
        let (tree, stopped) = match parse_to_ast(text, &CollectOptions::default(), &strict) {
            Ok(parsed) => (parsed.value, 0..0),
            Err(error) => (None, error.range().start..error.range().end),
        };
        let renderer = if std::io::stdout().is_terminal() { Renderer::styled() } else { Renderer::plain() };
        Self { name, text, lines: Lines::of(text), tree, stopped, renderer: renderer.decor_style(DecorStyle::Ascii) }
    }

    /// One finding: severity, code and sentence, then the line with a mark under its place.
    pub fn show(&self, finding: &Finding) -> String {
        let level = match finding.severity {
            Severity::Error => Level::ERROR,
            Severity::Warning => Level::WARNING,
            Severity::Information => Level::INFO,
        };
        let place = self.place(&finding.pointer);
        let line = self.lines.at(place.start);
        let shown = self.lines.around(line, &place);
        let mark = place.start - shown.start..(place.end.min(shown.end)) - shown.start;
        let origin = Origin::path(self.name).line(line + 1).char_column(self.lines.column(line, place.start));
        let snippet = Snippet::source(self.text.get(shown).unwrap_or_default())
            .line_start(line + 1)
            .annotation(AnnotationKind::Primary.span(mark));
        let title = level.primary_title(&finding.message).id(&finding.code);
        self.renderer.render(&[title.element(origin).element(snippet)])
    }

    /// The bytes to mark for a JSON Pointer: the deepest value on its way that is there.
    fn place(&self, pointer: &str) -> Range<usize> {
        let Some(tree) = &self.tree else {
            return self.first_line_of(self.stopped.clone());
        };
        let mut value = tree;
        let mut place = value.start()..value.end();
        for step in pointer.split('/').skip(1) {
            let step = step.replace("~1", "/").replace("~0", "~");
            let next = match value {
                Value::Object(object) => object.properties.iter().find_map(|property| {
                    (property.name.as_str() == step).then_some((&property.value, property.start()))
                }),
                Value::Array(array) => step
                    .parse::<usize>()
                    .ok()
                    .and_then(|index| array.elements.get(index))
                    .map(|element| (element, element.start())),
                _ => None,
            };
            let Some((inner, start)) = next else { break };
            place = self.mark(inner, start);
            value = inner;
        }
        self.first_line_of(place)
    }

    /// What to mark of a value whose place, name included, begins at `start`: a short value itself, a long one by its name, or
    /// in a list by its first property.
    fn mark(&self, value: &Value<'_>, start: usize) -> Range<usize> {
        let whole = value.start()..value.end();
        let text = self.text.get(whole.clone()).unwrap_or_default();
        if text.len() <= LONG && !text.contains('\n') {
            return whole;
        }
        match value {
            Value::Object(object) if start == whole.start => {
                object.properties.first().map_or(whole, |first| first.start()..first.end())
            }
            _ if start < whole.start => start..whole.start,
            _ => whole,
        }
    }

    /// The part of a range on its first line, one character at least where there is one.
    fn first_line_of(&self, range: Range<usize>) -> Range<usize> {
        let start = range.start.min(self.text.len());
        let rest = self.text.get(start..).unwrap_or_default();
        let one = rest.chars().next().map_or(0, char::len_utf8);
        let line = self.lines.range(self.lines.at(start)).end.saturating_sub(start);
        let length = (range.end.saturating_sub(start)).min(line).max(one);
        let marked = rest.get(..length).unwrap_or_default();
        let trimmed = marked.trim_end().trim_end_matches(':').len();
        start..start + if trimmed == 0 { length } else { trimmed }
    }
}

/// Where the lines of a text are, looked up once: a text may have thousands of findings, and may be one long line.
struct Lines<'a> {
    text: &'a str,
    /// Byte at which each line starts.
    starts: Vec<usize>,
    /// Characters before every so many bytes.
    counted: Vec<usize>,
}

impl<'a> Lines<'a> {
    /// Bytes from one count of characters to the next.
    const STEP: usize = 1024;

    fn of(text: &'a str) -> Self {
        let starts = std::iter::once(0).chain(text.match_indices('\n').map(|(at, _)| at + 1)).collect();
        let mut characters = 0;
        let counted = text.as_bytes().chunks(Self::STEP).map(|chunk| {
            let before = characters;
            characters += characters_in(chunk);
            before
        });
        let counted = counted.collect();
        Self { text, starts, counted }
    }

    /// The line in which a byte lies, from 0.
    fn at(&self, byte: usize) -> usize {
        self.starts.partition_point(|&start| start <= byte).saturating_sub(1)
    }

    /// The bytes of a line without its end.
    fn range(&self, line: usize) -> Range<usize> {
        let end = self.starts.get(line + 1).map_or(self.text.len(), |next| next - 1);
        self.starts[line]..end
    }

    /// The part of a line to show with a mark in it.
    fn around(&self, line: usize, mark: &Range<usize>) -> Range<usize> {
        let whole = self.range(line);
        let from = self.text.floor_char_boundary(mark.start.saturating_sub(BESIDE));
        let to = self.text.ceil_char_boundary((mark.end + BESIDE).min(self.text.len()));
        from.max(whole.start)..to.min(whole.end).max(mark.start)
    }

    /// The column of a byte of a line in characters, from 1.
    fn column(&self, line: usize, byte: usize) -> usize {
        let before = |byte: usize| {
            let step = (byte / Self::STEP).min(self.counted.len().saturating_sub(1));
            let rest = self.text.as_bytes().get(step * Self::STEP..byte).unwrap_or_default();
            self.counted.get(step).copied().unwrap_or(0) + characters_in(rest)
        };
        before(byte) - before(self.starts[line]) + 1
    }
}

/// How many characters begin in a stretch of UTF-8.
fn characters_in(bytes: &[u8]) -> usize {
    bytes.iter().filter(|&&byte| byte & 0b1100_0000 != 0b1000_0000).count()
}

#[cfg(test)]
mod tests {
    use super::*;

    const TEXT: &str = "{\n  \"points\": {\"a.L\": [0, 1]},\n  \"members\": [\n    {\"id\": \"post\",\n     \"from\": \"b\"}\n  ]\n}\n";

    fn marked(pointer: &str) -> &'static str {
        &TEXT[Excerpts::new("frame.json", TEXT).place(pointer)]
    }

    #[test]
    fn marks_the_value_that_a_pointer_names() {
        assert_eq!(marked("/members/0/from"), "\"b\"");
        assert_eq!(marked("/points/a.L/1"), "1");
    }

    #[test]
    fn marks_a_long_value_by_its_name() {
        assert_eq!(marked("/members"), "\"members\"");
    }

    #[test]
    fn marks_a_long_item_of_a_list_by_its_first_property() {
        assert_eq!(marked("/members/0"), "\"id\": \"post\"");
    }

    #[test]
    fn marks_the_deepest_that_is_there() {
        assert_eq!(marked("/points/a.L/7"), "[0, 1]");
    }

    #[test]
    fn says_line_and_column() {
        let finding = Finding {
            severity: Severity::Error,
            code: "unknown-point".to_owned(),
            pointer: "/members/0/from".to_owned(),
            members: vec!["post".to_owned()],
            message: "There is no point b.".to_owned(),
        };
        let shown = Excerpts::new("frame.json", TEXT).show(&finding);
        assert!(shown.contains("error[unknown-point]: There is no point b."));
        assert!(shown.contains("frame.json:5:14"));
        assert!(shown.contains("^^^"));
    }

    #[test]
    fn marks_where_a_text_stops_being_json() {
        for (text, place) in [("{\n\"a\": 1\n\"b\": 2}", "frame.json:2:7"), ("{\n\"a\": 'b'}", "frame.json:2:6")] {
            let finding = Finding::error("not-json", String::new(), "This is not JSON.".to_owned());
            let shown = Excerpts::new("frame.json", text).show(&finding);
            assert!(shown.contains(place), "{shown}");
        }
    }

    #[test]
    fn says_the_column_in_characters_on_one_long_line_too() {
        let notes = "\u{e4}\u{20ac}".repeat(900);
        let text = format!("{{\"notes\": [\"{notes}\"], \"members\": [{{\"from\": \"b\"}}]}}");
        let excerpts = Excerpts::new("frame.json", &text);
        let finding = Finding::error("unknown-point", "/members/0/from".to_owned(), "There is no point b.".to_owned());
        let shown = excerpts.show(&finding);
        let column = text[..text.find("\"b\"").unwrap()].chars().count() + 1;
        assert!(shown.contains(&format!("frame.json:1:{column}\n")), "{shown}");
        assert!(shown.contains("\"from\": \"b\"") && shown.contains("^^^"), "{shown}");
        assert!(shown.len() < 1_000, "only what is near the mark is shown: {} bytes", shown.len());
    }
}
