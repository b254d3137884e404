//! What stands on every page: frame, title strip, and the mark of a draft.

use super::figures::Figures;
use super::lines::{break_lines, fit_line};
use crate::Stop;
use crate::drawing::{Anchor, Area, Drawing, Ink, Lettering, Path, Pen, Text, Weight};
use crate::pack::{Issue, NoticePages, OnPage, Status};
use crate::part::is_as_measured;
use crate::render::Letters;
use crate::sheets::End;
use crate::words::Words;

/// From the paper's edge to the frame, mm.
const MARGIN: f64 = 7.0;
/// Height of the title block and side of the code in its corner, mm.
const STRIP: f64 = 23.0;
/// Height of the band at the top, mm.
const BAND: f64 = 8.0;
/// From the frame to what the page holds, mm.
const PADDING: f64 = 3.0;

/// What the pages of one pack share.
#[derive(Clone, Copy)]
pub(in crate::pack) struct Furniture<'a> {
    /// The lettering.
    pub(in crate::pack) letters: &'a Letters,
    /// The facts of issue.
    pub(in crate::pack) issue: &'a Issue,
    /// The words.
    pub(in crate::pack) words: &'static Words,
    /// Whether the pages are still wanted.
    pub(in crate::pack) stop: Stop<'a>,
}

/// What a cut-out piece is of.
pub(in crate::pack) struct CutOut<'a> {
    /// Part number; empty when there is none.
    pub(in crate::pack) number: &'a str,
    /// How long or how large the finished part is, in words and as a bare figure; empty when that is not known.
    pub(in crate::pack) size: (String, String),
}

impl<'a> CutOut<'a> {
    /// A piece of a tube of an overall length.
    pub(in crate::pack) fn of_tube(number: &'a str, overall: Option<f64>, figures: Figures) -> Self {
        let size = overall.map(|mm| (figures.words.page.overall(figures.length(mm)), figures.bare(mm)));
        Self { number, size: size.unwrap_or_default() }
    }
}

impl Furniture<'_> {
    /// How lengths are written.
    pub(in crate::pack) fn figures(self) -> Figures {
        Figures { units: self.issue.print.units, words: self.words }
    }

    /// What the wrap of an end is called, on its page and wherever that is named.
    pub(in crate::pack) fn wrap_name(self, member: &str, end: End) -> String {
        self.words.page.wrap(member, self.figures().end(end))
    }

    /// The wrap of an end as it stands on its page.
    pub(in crate::pack) fn wrap_on_page(self, member: &str, end: End) -> OnPage {
        OnPage::wrap(member, end, self.wrap_name(member, end))
    }

    /// The part of a page that its kind fills.
    pub(in crate::pack) fn content_area(self) -> Area {
        let frame = self.frame();
        Area {
            x: frame.x + PADDING,
            y: frame.y + STRIP + PADDING,
            width: frame.width - 2.0 * PADDING,
            height: frame.height - STRIP - BAND - 2.0 * PADDING,
        }
    }

    /// The whole page: its content within frame, band and title strip, which has the titles of what stands on the page.
    pub(in crate::pack) fn furnish(self, titles: &[&str], content: Drawing, page: usize, pages: usize) -> Drawing {
        let mut drawing = Drawing::default();
        let frame = self.frame();
        drawing.path(Path::rectangle(frame, Pen::Cut));
        self.band(&mut drawing, frame);
        self.title_block(&mut drawing, frame, titles, page, pages);
        drawing.append(content);
        drawing
    }

    /// Design and issue in one small line, so that a template that was cut out still says what it belongs to.
    pub(in crate::pack) fn facts_of_issue(self) -> String {
        let (issue, say) = (self.issue, &self.words.page);
        match issue.status {
            Status::Draft => say.draft_of(&issue.design, &issue.date),
            Status::Issued => say.revision_of(&issue.design, &issue.revision, &issue.date),
        }
    }

    /// What tells one cut-out piece from that of another pack or kit, in full and as short as can be.
    pub(in crate::pack) fn facts_of_piece(self, piece: &CutOut) -> [Vec<String>; 2] {
        let Issue { pack_number: pack, kit, notice_pages, .. } = self.issue;
        let say = &self.words.page;
        let number = piece.number;
        let part = if is_as_measured(number) { say.part_as_measured(number) } else { say.part(number) };
        let [full_set, short_set] = match notice_pages {
            Some(pages) => [say.notice_pages(self.set(*pages)), self.set(*pages)],
            None if pack.is_empty() => [String::new(), String::new()],
            None => [say.pack(pack), say.short_pack(pack)],
        };
        let full = [Some(full_set), (!kit.is_empty()).then(|| say.kit(kit))].into_iter();
        let full = full.chain([(!number.is_empty()).then_some(part), Some(piece.size.0.clone())]);
        let short = [Some(short_set)].into_iter();
        let short = short.chain([kit.clone(), number.to_owned(), piece.size.1.clone()].map(Some));
        let said =
            |facts: &mut dyn Iterator<Item = Option<String>>| facts.flatten().filter(|fact| !fact.is_empty()).collect();
        [said(&mut full.into_iter()), said(&mut short.into_iter())]
    }

    /// What a set of pages of a notice is called.
    fn set(self, pages: NoticePages) -> String {
        self.words.page.notice_set(pages.notice, pages.beside, pages.told)
    }

    /// Pack and kit in a few words, or what was issued where there is neither.
    pub(in crate::pack) fn whose(self) -> String {
        let [full, _] = self.facts_of_piece(&CutOut { number: "", size: <(String, String)>::default() });
        if full.is_empty() { self.facts_of_issue() } else { full.join(", ") }
    }

    fn or_none(self, text: &str) -> &str {
        if text.is_empty() { self.words.page.none() } else { text }
    }

    fn frame(self) -> Area {
        let [width, height] = self.issue.print.room();
        Area { x: 0.0, y: 0.0, width, height }.inset(MARGIN)
    }

    /// Where the code of a page stands: the corner of the title block.
    pub(in crate::pack) fn code_area(self) -> Area {
        let frame = self.frame();
        Area { x: frame.right() - STRIP, y: frame.y, width: STRIP, height: STRIP }.inset(0.5)
    }

    fn band(self, drawing: &mut Drawing, frame: Area) {
        let band = Area { y: frame.top() - BAND, height: BAND, ..frame };
        match self.issue.status {
            Status::Draft => {
                drawing.path(Path::filled(band, Ink::Black));
                let at = [band.x + band.width / 2.0, band.y + 1.8];
                let mark = Text::new(self.words.page.draft_mark(), at).lettered(Lettering::Title);
                drawing.text(mark.bold().anchored(Anchor::Middle).inked(Ink::White));
            }
            Status::Issued => {
                drawing.line([band.x, band.y], [band.right(), band.y], Pen::Rule);
                let rule = match self.issue.since.as_ref().filter(|since| since.only) {
                    Some(_) => self.words.page.rule_of_changes(),
                    None => self.words.page.rule(),
                };
                let small = Lettering::Small;
                let y = band.y + 3.1;
                let taken = self.letters.width(rule, small, Weight::Regular);
                drawing.text(Text::new(rule, [band.right() - PADDING, y]).lettered(small).anchored(Anchor::End));
                let room = band.width - taken - 4.0 * PADDING;
                let choices = [Lettering::Body, small];
                let (line, lettering) = fit_line(self.letters, &self.issue.supplier, Weight::Regular, room, &choices);
                drawing.text(Text::new(line, [band.x + PADDING, y]).lettered(lettering));
            }
        }
    }

    /// Fields after ISO 7200 in two rows, and the code.
    fn title_block(self, drawing: &mut Drawing, frame: Area, titles: &[&str], page: usize, pages: usize) {
        let (issue, say) = (self.issue, &self.words.page);
        let top = frame.y + STRIP;
        drawing.line([frame.x, top], [frame.right(), top], Pen::Edge);
        let code = self.code_area();
        let right = code.x - 0.5;
        drawing.line([right, frame.y], [right, top], Pen::Rule);
        if issue.seal.is_none() {
            let at = |line: f64| [code.x + code.width / 2.0, code.y + code.height / 2.0 + 1.0 - line * 3.1];
            for (line, words) in [(0.0, say.not_signed()), (1.0, say.no_code())] {
                drawing.text(Text::new(words, at(line)).lettered(Lettering::Small).anchored(Anchor::Middle));
            }
        }
        let revision = match issue.status {
            Status::Draft => say.draft(),
            Status::Issued => self.or_none(&issue.revision),
        };
        let page = say.page_of(page, pages);
        let row = Area { x: frame.x, y: frame.y, width: right - frame.x, height: STRIP / 2.0 };
        drawing.line([row.x, row.top()], [right, row.top()], Pen::Rule);
        let upper = Area { y: row.top(), ..row };
        self.fields(drawing, upper, &[(say.head_design(), &[&issue.design], 0.5), (say.head_this_page(), titles, 0.5)]);
        let pack = match issue.notice_pages {
            Some(pages) => (say.head_notice_pages(), self.set(pages)),
            None => (say.head_pack(), self.or_none(&issue.pack_number).to_owned()),
        };
        let lower = [
            (say.head_revision(), &[revision][..], 0.15),
            (say.head_date(), &[&issue.date], 0.21),
            (say.head_kit(), &[self.or_none(&issue.kit)], 0.25),
            (pack.0, &[&pack.1], 0.19),
            (say.head_page(), &[&page], 0.2),
        ];
        self.fields(drawing, row, &lower);
    }

    /// A row of captions with their values, each with its share of the width; a value may be a list.
    fn fields(self, drawing: &mut Drawing, row: Area, fields: &[(&str, &[&str], f64)]) {
        let mut x = row.x;
        for (caption, listed, share) in fields {
            let width = share * row.width;
            if x > row.x {
                drawing.line([x, row.y], [x, row.top()], Pen::Rule);
            }
            drawing.text(Text::new(*caption, [x + 1.5, row.top() - 3.2]).lettered(Lettering::Small));
            let (lines, lettering) = self.in_lines(listed, width - 3.0);
            let mut y = if lines.len() == 1 { row.y + 2.4 } else { row.y + 1.6 + lettering.leading() };
            for line in lines {
                drawing.text(Text::new(line, [x + 1.5, y]).lettered(lettering).bold());
                y -= lettering.leading();
            }
            x += width;
        }
    }

    /// A value of the title block in one line as large as can be, or in two small ones; of a list that is too long for those its first
    /// and its last, and how many there are.
    fn in_lines(self, listed: &[&str], width: f64) -> (Vec<String>, Lettering) {
        let small = Lettering::Small;
        let value = &listed.join("; ");
        let whole = [Lettering::Heading, Lettering::Body];
        if let Some(lettering) =
            whole.into_iter().find(|lettering| self.letters.width(value, *lettering, Weight::Bold) <= width)
        {
            return (vec![value.to_owned()], lettering);
        }
        let two = |words: &str| {
            let lines = break_lines(self.letters, words, small, Weight::Bold, width);
            (lines.len() <= 2).then_some(lines)
        };
        let ends = || match *listed {
            [first, _, .., last] => two(&self.words.page.several(first, last, listed.len())),
            _ => None,
        };
        let lines = two(value).or_else(ends);
        (lines.unwrap_or_else(|| vec![fit_line(self.letters, value, Weight::Bold, width, &[small]).0]), small)
    }
}
