//! Labels for parts, as pages of PDF for sheets of labels given by their size.

use crate::ExportError;
use crate::facts::Subject;
use crate::format::{Entry, Format};
use crate::words::EN;
use matchmark_core::Stop;
use matchmark_core::drawing::{Area, Drawing, Ink, Lettering, Path, Text, Weight};
use matchmark_core::pack::RenderError;
use matchmark_core::render::{Document, Letters, Page, letters, write_pdf};
use qrcodegen::{QrCode, QrCodeEcc};

const NAME: &str = "labels.pdf";

/// Smallest label, mm: below it nobody reads what is on it.
const SMALLEST: [f64; 2] = [45.0, 22.0];

/// Paper within which labels may lie, mm.
const LARGEST: [f64; 2] = [1000.0, 1200.0];

/// Free at the edge of a label, mm.
const EDGE: f64 = 2.0;

/// Nothing is printed nearer to the paper's edge than this, mm, whatever the label: what common printers leave white.
const UNPRINTED: f64 = 6.0;

/// Free round a code, in its own modules (ISO/IEC 18004 asks for four).
const QUIET: f64 = 4.0;

/// Labels on a sheet of paper. Lengths are mm; the labels stand in the middle of the paper.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct LabelSheet {
    /// Width and height of the paper.
    pub paper: [f64; 2],
    /// Width and height of a label.
    pub label: [f64; 2],
    /// Between labels, across and down.
    pub gap: [f64; 2],
    /// Labels already taken from the first sheet.
    pub taken: usize,
}

impl Default for LabelSheet {
    /// Three by eight labels of 70 by 36 mm on A4, a common sheet (common practice).
    fn default() -> Self {
        Self { paper: [210.0, 297.0], label: [70.0, 36.0], gap: [0.0, 0.0], taken: 0 }
    }
}

pub(crate) const FORMAT: Format = Format {
    id: "labels",
    folder: "labels",
    media_type: "application/pdf",
    entries: |_| vec![Entry { name: NAME.to_owned(), about: EN.about_labels().to_owned() }],
    write: |subject, _, stop| labels_pdf(subject, stop),
};

impl LabelSheet {
    /// How many labels stand across and down.
    fn counts(&self) -> Result<[usize; 2], ExportError> {
        let is_sound = |axis: usize| {
            let (paper, label, gap) = (self.paper[axis], self.label[axis], self.gap[axis]);
            paper.is_finite()
                && gap.is_finite()
                && (0.0..=50.0).contains(&gap)
                && label >= SMALLEST[axis]
                && label <= paper
                && paper <= LARGEST[axis]
        };
        if !is_sound(0) || !is_sound(1) {
            let [width, height] = SMALLEST;
            return Err(ExportError::Labels(EN.label_sizes(width.to_string(), height.to_string())));
        }
        #[allow(clippy::cast_possible_truncation, clippy::cast_sign_loss, reason = "from 1 to 54")]
        let count = |axis: usize| {
            ((self.paper[axis] + self.gap[axis] + 1e-6) / (self.label[axis] + self.gap[axis])).floor() as usize
        };
        let counts = [count(0), count(1)];
        if self.taken >= counts[0] * counts[1] {
            let most = counts[0] * counts[1] - 1;
            return Err(ExportError::Labels(EN.labels_of_a_sheet(most + 1, most)));
        }
        Ok(counts)
    }

    /// Where a label stands on its page, counted row by row from the top left.
    fn place(&self, counts: [usize; 2], at: usize) -> Area {
        let row_and_column = [at % counts[0], at / counts[0]];
        let [x, down] = [0, 1].map(|axis: usize| {
            #[allow(clippy::cast_precision_loss, reason = "from 0 to 54")]
            let [count, number] = [counts[axis] as f64, row_and_column[axis] as f64];
            let all = count * self.label[axis] + (count - 1.0) * self.gap[axis];
            (self.paper[axis] - all) / 2.0 + number * (self.label[axis] + self.gap[axis])
        });
        Area { x, y: self.paper[1] - down - self.label[1], width: self.label[0], height: self.label[1] }
    }

    /// The part of a label that is free to print on.
    fn free(&self, counts: [usize; 2], at: usize) -> Area {
        let label = self.place(counts, at).inset(EDGE);
        let [width, height] = self.paper;
        let [left, low] = [label.x.max(UNPRINTED), label.y.max(UNPRINTED)];
        let [right, top] = [label.right().min(width - UNPRINTED), label.top().min(height - UNPRINTED)];
        Area { x: left, y: low, width: right - left, height: top - low }
    }
}

/// The labels of all parts, in build order: number, mark, hand, section, revision and kit, with a code that leads to their state.
///
/// # Errors
/// [`ExportError::Labels`] when the labels do not fit on the paper or a number does not fit on a label; [`ExportError::Render`] for what
/// cannot be drawn.
pub fn labels_pdf(subject: &Subject, stop: Stop) -> Result<Vec<u8>, ExportError> {
    let letters = letters()?;
    let (sheet, facts) = (&subject.labels, subject.facts);
    let counts = sheet.counts()?;
    let most = counts[0] * counts[1];
    let mut pages: Vec<Drawing> = Vec::new();
    let rows = subject.sheets.cut_sheet.rows.iter();
    let tubes = rows.map(|row| {
        let length = EN.length(format!("{:.1}", row.overall));
        (row.member.as_str(), row.part_number.as_str(), format!("{}  {length}", row.size))
    });
    let plates = subject.sheets.plates.iter().map(|plate| {
        (plate.plate.as_str(), plate.part_number.as_str(), EN.plate(plate.thickness.to_string(), &plate.material))
    });
    for (at, (mark, number, what)) in tubes.chain(plates).enumerate() {
        stop.check()?;
        let at = at + sheet.taken;
        if at / most >= pages.len() {
            pages.push(Drawing::default());
        }
        let area = sheet.free(counts, at % most);
        if let Some(page) = pages.last_mut() {
            label(page, area, &Label { subject, mark, number, what: &what }, letters)?;
        }
    }
    let page = |drawing: Drawing| Page { title: facts.title(), drawing, links: Vec::new() };
    let document = Document {
        title: facts.title(),
        author: facts.supplier.clone(),
        subject: facts.design_sha256.clone(),
        date: facts.date.clone(),
        room: sheet.paper,
        stretch: [1.0, 1.0],
        pages: pages.into_iter().map(page).collect(),
        outline: Vec::new(),
        sealing: None,
    };
    Ok(write_pdf(&document, stop)?.bytes)
}

/// What stands on a label.
struct Label<'a> {
    subject: &'a Subject<'a>,
    mark: &'a str,
    number: &'a str,
    what: &'a str,
}

fn label(page: &mut Drawing, area: Area, told: &Label, letters: &Letters) -> Result<(), ExportError> {
    let facts = told.subject.facts;
    let side = area.height.min(area.width / 2.5);
    let code = code(told)?;
    #[allow(clippy::cast_possible_truncation, reason = "a code has at most 177 modules")]
    let modules = f64::from(code.size()) + 2.0 * QUIET;
    let module = side / modules;
    let corner = [area.right() - side + QUIET * module, area.top() - QUIET * module];
    draw_code(page, &code, corner, module);
    let room = area.width - side - 1.0;
    let hand = match told.subject.hand(told.mark) {
        "left" => EN.hand_left(),
        "right" => EN.hand_right(),
        "either" => EN.hand_either(),
        _ => "",
    };
    let revision = if facts.revision.is_empty() {
        EN.not_for_cutting().to_owned()
    } else {
        EN.revision(&facts.revision, &facts.date)
    };
    let kit = if facts.kit.is_empty() { String::new() } else { EN.kit(&facts.kit) };
    let lines = [
        (told.number, Lettering::Title, Weight::Bold),
        (told.mark, Lettering::Heading, Weight::Bold),
        (hand, Lettering::Heading, Weight::Bold),
        (told.what, Lettering::Body, Weight::Regular),
        (&revision, Lettering::Body, Weight::Bold),
        (&kit, Lettering::Body, Weight::Regular),
        (&facts.design, Lettering::Small, Weight::Regular),
    ];
    let mut y = area.top();
    for (content, lettering, face) in lines.into_iter().filter(|(content, ..)| !content.is_empty()) {
        // Below the code there is room to the edge.
        let beside = y > area.top() - side;
        let room = if beside { room } else { area.width };
        let (content, lettering) = fitted(content, lettering, face, room, letters)?;
        y -= lettering.height() * 1.45;
        if y < area.y {
            return Err(ExportError::Labels(EN.label_too_low().to_owned()));
        }
        let text = Text::new(content, [area.x, y]).lettered(lettering);
        page.text(if face == Weight::Bold { text.bold() } else { text });
    }
    Ok(())
}

/// The largest lettering up to the one wanted in which a line fits; what fits in none is cut short, and says so by three points.
fn fitted(
    content: &str,
    wanted: Lettering,
    face: Weight,
    room: f64,
    letters: &Letters,
) -> Result<(String, Lettering), ExportError> {
    if let Some(character) = letters.missing(content, face) {
        return Err(RenderError::MissingGlyph { text: content.to_owned(), character }.into());
    }
    let sizes = [Lettering::Title, Lettering::Heading, Lettering::Body, Lettering::Small];
    let mut sizes = sizes.into_iter().filter(|size| size.height() <= wanted.height());
    if let Some(size) = sizes.find(|&size| letters.width(content, size, face) <= room) {
        return Ok((content.to_owned(), size));
    }
    if wanted == Lettering::Title {
        return Err(ExportError::Labels(EN.label_too_narrow_for_number(content)));
    }
    let mut short = content.to_owned();
    while short.pop().is_some() {
        let told = format!("{short}...");
        if letters.width(&told, Lettering::Small, face) <= room {
            return Ok((told, Lettering::Small));
        }
    }
    Err(ExportError::Labels(EN.label_too_narrow().to_owned()))
}

/// What a scan of the label gives: where the state of the revision or kit is shown, with the part; or the same facts in words.
fn code(told: &Label) -> Result<QrCode, ExportError> {
    let facts = told.subject.facts;
    let text = if facts.address.is_empty() {
        [facts.title().as_str(), &EN.part(told.number, told.mark)].join(", ")
    } else {
        format!("{}#{}", facts.address, told.number)
    };
    QrCode::encode_text(&text, QrCodeEcc::Low).map_err(|_| ExportError::Labels(EN.label_code_too_long().to_owned()))
}

/// Draws a code with its upper left corner at `corner`: a black area for each run of modules in a row.
fn draw_code(page: &mut Drawing, code: &QrCode, [left, top]: [f64; 2], module: f64) {
    for row in 0..code.size() {
        let mut column = 0;
        while column < code.size() {
            let start = column;
            while column < code.size() && code.get_module(column, row) {
                column += 1;
            }
            if column > start {
                let area = Area {
                    x: left + f64::from(start) * module,
                    y: top - f64::from(row + 1) * module,
                    width: f64::from(column - start) * module,
                    height: module,
                };
                page.path(Path::filled(area, Ink::Black));
            }
            column += 1;
        }
    }
}
