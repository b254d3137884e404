//! What is said of a page by its code when it cannot be told how it stands.

use crate::words::groups::page::Page;

pub const WORDS: Page = Page {
    not_signing: "This service signs no pages, so it cannot recognise one.",
    not_readable: "Not known here: this is not the code of a page; scan it again, flat and in good light.",
    form_unknown: "Not known here: the code is of form {form}, which this program does not know; use a newer one.",
    signature_wrong: "Not known here: the signature does not fit: the code was changed, or signed with another key. Do not cut from this page.",
    key_broken: "Not known here: a key of this service cannot be read.",
    revoked: "The key that signed this page was revoked because others may have it, and nothing else proves the page genuine.",
    void: "The signature is ours, but: {void}",
    no_pack: "The signature is ours, but there is no record of such a pack.",
    not_of_pack: "The signature is ours, but this page is not from pack {pack} of kit {serial} as we recorded it. The number was given twice, as can happen after a backup is restored.",
    no_recall: "The signature is ours, but there is no record of such a recall of this kit.",
    no_notice: "The signature is ours, but there is no record of such a notice to this kit.",
    do_not_cut: "Do not cut from this page; ask the supplier.",
}
.checked();
