//! The first page, and the pages about problems.

use crate::words::groups::home::Home;

pub const WORDS: Home = Home {
    heading: "Kits and their packs",
    about: "{supplier} sells welded tube frames as kits. Every kit has one revision of its design, and its builder gets the pack of exactly that revision: cut sheet, bend sheets, fit-up order and 1:1 wraps.",
    sign_in: "Sign in",
    scan_heading: "Is the page in your hand still right?",
    scan_about: "Scan the code at the foot of the page. The answer is in plain words, and you need not sign in.",
    programs_heading: "For other programs",
    handbook_page: "{link}, from an empty service to printed packs",
    handbook_link: "Handbook",
    api_pages: "{link}, which work without a network",
    api_pages_link: "Pages about the API",
    openapi_link: "OpenAPI 3.1 description",
    schema_link: "JSON Schema of the design document",
    problems_link: "What errors mean",
    problems_heading: "Problems",
    problems_about: "Every error names one of these as its {field}.",
    problem_status: "Status {status}.",
    all_problems_link: "All problems",
}
.checked();
