//! What stands on every page.

use crate::words::groups::layout::Layout;

pub const WORDS: Layout = Layout {
    document_title: "{page} - {supplier}",
    skip_link: "Skip to the content",
    navigation: "Main",
    navigation_kit: "My kit",
    navigation_look_up: "Look up",
    navigation_kits: "Kits",
    navigation_designs: "Designs",
    navigation_notices: "Notices",
    navigation_jobs: "Jobs",
    sign_in: "Sign in",
    sign_out: "Sign out",
    contact_link: "Contact for holders",
    cautions: "A pack is no approval. Check the scale bars of every printed page, cut only from the pack of your kit, wear eye protection, and have roll structures approved by a competent person under the rules of your governing body and local codes.",
}
.checked();
