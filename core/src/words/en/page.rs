//! What stands on every page, and on pieces cut out of one.

use crate::words::groups::page::Page;

pub(in crate::words) static WORDS: Page = Page {
    draft_mark: "DRAFT, NOT FOR CUTTING",
    rule_of_changes: "Changes only: of the pages from before, only what \"What changed\" lists stays valid.",
    rule: "Pages of different revisions must not be mixed.",
    not_signed: "not signed:",
    no_code: "no code",
    draft: "draft",
    none: "none",
    page_of: "{page} of {pages}",
    head_design: "design",
    head_this_page: "this page",
    head_revision: "revision",
    head_date: "date of issue",
    head_kit: "kit",
    head_pack: "pack",
    head_page: "page",
    several: "{count} in all, from {first} to {last}",
    continued: "{title} (continued)",
    draft_of: "{design}, draft, {date}",
    revision_of: "{design}, revision {revision}, {date}",
    pack: "pack {pack}",
    kit: "kit {kit}",
    part: "part {part}",
    part_as_measured: "part {part} as measured",
    short_pack: "P.{pack}",
    overall: "overall {length}",
    on_page: "page {page}",
    on_pages: "pages {pages}",
    where_to_find: "Where to find each part",
    wrap: "Wrap {part}, end {end}",
    end_of: "{part}, end {end}",
    end: "end {end}",
    scale: "scale 1:{reduction}",
}
.checked();
