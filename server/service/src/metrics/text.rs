//! Writes the text format of Prometheus.

use super::histogram::Histogram;
use std::fmt::{Display, Write};

/// A text on its way.
#[derive(Default)]
pub struct Text(String);

impl Text {
    /// What the lines that follow are.
    pub fn heading(&mut self, name: &str, kind: &str, about: &str) {
        let _ = writeln!(self.0, "# HELP {name} {about}\n# TYPE {name} {kind}");
    }

    /// One value.
    pub fn line(&mut self, name: &str, labels: &[(&str, &str)], value: impl Display) {
        let _ = self.0.write_str(name);
        for (index, (label, text)) in labels.iter().enumerate() {
            let before = if index == 0 { '{' } else { ',' };
            let _ = write!(self.0, "{before}{label}=\"{}\"", escaped(text));
        }
        let end = if labels.is_empty() { "" } else { "}" };
        let _ = writeln!(self.0, "{end} {value}");
    }

    /// The lines of a histogram.
    pub fn histogram(&mut self, name: &str, labels: &[(&str, &str)], histogram: &Histogram) {
        let bucket = format!("{name}_bucket");
        let with = |bound: &str| -> Vec<(String, String)> {
            let own = labels.iter().map(|(label, text)| ((*label).to_owned(), (*text).to_owned()));
            own.chain([("le".to_owned(), bound.to_owned())]).collect()
        };
        let bounds = histogram.within().map(|(bound, count)| (bound.to_string(), count));
        for (bound, count) in bounds.chain([("+Inf".to_owned(), histogram.count())]) {
            let labels = with(&bound);
            let labels: Vec<(&str, &str)> = labels.iter().map(|(label, text)| (&**label, &**text)).collect();
            self.line(&bucket, &labels, count);
        }
        self.line(&format!("{name}_sum"), labels, histogram.sum());
        self.line(&format!("{name}_count"), labels, histogram.count());
    }

    /// The text.
    pub fn finish(self) -> String {
        self.0
    }
}

fn escaped(text: &str) -> String {
    text.replace('\\', "\\\\").replace('"', "\\\"").replace('\n', "\\n")
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::time::Duration;

    #[test]
    fn lines_are_as_the_format_wants_them() {
        let mut histogram = Histogram::new(&[0.5]);
        histogram.add(Duration::from_millis(250));
        let mut text = Text::default();
        text.heading("seconds", "histogram", "How long.");
        text.histogram("seconds", &[("route", "/a\"b")], &histogram);
        text.line("plain", &[], 3);
        let expected = "# HELP seconds How long.\n# TYPE seconds histogram\n\
            seconds_bucket{route=\"/a\\\"b\",le=\"0.5\"} 1\nseconds_bucket{route=\"/a\\\"b\",le=\"+Inf\"} 1\n\
            seconds_sum{route=\"/a\\\"b\"} 0.25\nseconds_count{route=\"/a\\\"b\"} 1\nplain 3\n";
        assert_eq!(text.finish(), expected);
    }
}
