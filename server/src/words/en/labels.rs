//! Heads of columns and captions above a value, where several pages have them.

use crate::words::groups::labels::Labels;

pub const WORDS: Labels = Labels {
    kit: "Kit",
    revision: "Revision",
    design: "Design",
    pack: "Pack",
    order: "Order",
    notice: "Notice",
    state: "State",
    class: "Class",
    kits: "Kits",
    issued: "Issued",
    standing: "Status",
    published: "Published",
    change: "Change",
    next_page: "Next page",
}
.checked();
