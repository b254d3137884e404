//! What is to be done about one value of a request.

use crate::words::groups::fields::Fields;

pub const WORDS: Fields = Fields {
    design_id: "Give 1 to 63 lower-case letters, digits and hyphens, and do not begin with a hyphen.",
    serial: "Give 1 to 32 capital letters, digits and hyphens, and do not begin with a hyphen.",
    line: "Give 1 to 200 characters on one line, with no space at either end.",
    note: "Say it in 1 to 2000 characters of plain text.",
    contact: "Say whom to ask, and how, in 1 to 300 characters on at most four lines, with no space at either end.",
    email: "Give one address with a name, an @ and a host, and nothing else.",
    unseen: "Leave out the character U+{code}. It is invisible, and it can make one text look like another. Such characters often come along when text is copied.",
    nul: "Leave out the character U+0000.",
    softening: "Leave out \"{words}\": a recall must not make the hazard seem smaller.",
    change_class: "Say how much the change matters to holders of an earlier revision: mandatory, recommended or optional.",
    save_or_revision: "Give either `save` (a number) or `revision` (a letter).",
    figures_hash: "This is not the hash of the figures that this version computes. Read those figures first, then send their hash.",
    nothing_to_measure: "This kit's revision has nothing to measure.",
    gauges: "Give values for what can be measured on this kit: {gauges}.",
    choices: "Give the choices as a JSON object, such as {example}.",
    later_revision: "Give a revision later than `from`.",
    search: "Give a serial, part of a name or address, an order number, or the text of a code.",
    token_lasts: "Give 1 to 3650 days.",
    token_owner: "Say whose token it is. What is done with it is recorded under this name.",
}
.checked();
