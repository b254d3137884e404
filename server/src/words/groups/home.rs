//! The first page, and the pages about problems.

use crate::words::marked;
use maud::{Markup, Render};

matchmark_core::phrases! {
    /// The first page, and the pages about problems.
    Home {
        heading();
        about(supplier);
        sign_in();
        scan_heading();
        scan_about();
        programs_heading();
        api_pages_link();
        handbook_link();
        openapi_link();
        schema_link();
        problems_link();
        problems_heading();
        problem_status(status);
        all_problems_link();
    } + marked(Render, marked => Markup) {
        api_pages(link);
        handbook_page(link);
        problems_about(field);
    }
}
