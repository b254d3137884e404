//! Heads of tables.

use super::*;
use crate::render::letters;

#[test]
fn a_table_that_begins_on_a_new_page_has_one_head() {
    let issue = crate::pack::fixture::issue(crate::pack::Paper::A4, crate::pack::Status::Issued);
    let furniture = Furniture {
        letters: letters().expect("compiled in"),
        issue: &issue,
        words: &crate::words::EN,
        stop: crate::Stop::NEVER,
    };
    let area = Area { x: 0.0, y: 0.0, width: 100.0, height: 60.0 };
    let mut flow = Flow::new(furniture, area, "");
    flow.skip(50.0);
    flow.start_table(&[Column::words("mark", 1.0)]);
    flow.row(&["sill".to_owned()], "");
    let pages = flow.finish();
    let heads = |page: &Drawing| page.texts().filter(|text| text.content == "mark").count();
    assert_eq!(pages.iter().map(heads).collect::<Vec<_>>(), [0, 1]);
}
