//! How to print at true scale, how to check it, and how to use a wrap.

use super::cover::contents_of;
use crate::pack::layout::check_bar;
use crate::pack::layout::figures::Figures;
use crate::pack::layout::flow::Flow;
use crate::pack::layout::furniture::Furniture;
use crate::pack::{CheckBars, Content, OnPage, RenderError, SheetKind, Units};
use crate::sheets::Sheets;
use crate::words::groups::reading::Reading;

/// By how much a tube may differ from the diameter on its wrap, mm.
const TOO_FAR: f64 = 0.3;

/// The pages on printing and on reading a wrap, with both check bars.
pub(in crate::pack) fn pages(_: &Sheets, furniture: Furniture) -> Result<Vec<Content>, RenderError> {
    let area = furniture.content_area();
    let (figures, words) = (furniture.figures(), furniture.words);
    let (title, say) = (words.kinds.printing(), &words.printing);
    let mut flow = Flow::new(furniture, area, title);
    flow.heading(say.heading_print());
    let print = furniture.issue.print;
    let units = print.units;
    let bar = check_bar::length_words(units);
    // A diameter is read off a caliper, in inches as a decimal.
    let caliper = Figures { units: if units == Units::Mm { Units::Mm } else { Units::Inch }, words };
    let printing = [
        say.at_full_size().to_owned(),
        say.measure_bars(bar, check_bar::allowed_words(units)),
        say.measure_tube(caliper.short_length(TOO_FAR)),
        say.try_wrap().to_owned(),
    ];
    numbered(&mut flow, &printing);
    match units {
        Units::Mm => {}
        Units::Inch => flow.paragraph(say.inches_in_thousandths()),
        Units::InchFraction => flow.paragraph(say.inches_in_64ths()),
    }
    flow.heading(say.heading_check());
    let [width, height] = print.paper.size().map(|mm| figures.short(mm));
    flow.paragraph(&say.paper(width, height, figures.unit()));
    if let Some(CheckBars { across, up }) = print.check_bars.filter(|_| print.stretch() != [1.0; 2]) {
        flow.paragraph(&say.corrected(bar, figures.as_read(across), figures.as_read(up), figures.unit()));
    }
    let height = check_bar::LENGTH + 6.0;
    flow.need(height);
    let foot = flow.top() - height + 2.0;
    flow.page().append(check_bar::across([area.x + 24.0, foot + 46.0], furniture));
    flow.page().append(check_bar::upright([area.x + 12.0, foot], furniture));
    flow.skip(height + 4.0);
    flow.heading(words.reading.heading_steps());
    numbered(&mut flow, &steps(&words.reading));
    flow.heading(words.reading.heading_special());
    numbered(&mut flow, &special_cases(&words.reading));
    Ok(contents_of(flow, OnPage::of_frame(SheetKind::Printing, title)))
}

fn steps(say: &Reading) -> [&'static str; 11] {
    [
        say.marks_and_numbers(),
        say.find_part(),
        say.scribe_index(),
        say.saw_blank(),
        say.set_out(),
        say.lay_base(),
        say.turn_wrap(),
        say.dash_dot(),
        say.measure_first(),
        say.trace_line(),
        say.open_throat(),
    ]
}

fn special_cases(say: &Reading) -> [&'static str; 7] {
    [
        say.angles_of_surfaces(),
        say.left_long(),
        say.handed(),
        say.rectangular(),
        say.hole_strips(),
        say.plates(),
        say.wall_misses(),
    ]
}

fn numbered(flow: &mut Flow, paragraphs: &[impl AsRef<str>]) {
    for (number, paragraph) in (1..).zip(paragraphs) {
        flow.marked(&i32::to_string(&number), paragraph.as_ref());
    }
}
