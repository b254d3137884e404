//! Which problems an operation can answer with, by what it takes and by its id. What is not listed can still come, as `default` says.

use crate::http::problem_kinds::{self as kinds, Kind};
use crate::words::EN;
use matchmark_service::refusals;
use serde_json::{Value, json};
use std::collections::BTreeMap;

type Kinds = &'static [&'static refusals::Kind];

/// What is not found, by a parameter of the address.
const OF_PARAMETERS: [(&str, Kinds); 13] = [
    ("design", &[&kinds::UNKNOWN_DESIGN]),
    ("letter", &[&kinds::UNKNOWN_REVISION]),
    ("member", &[&kinds::UNKNOWN_MEMBER]),
    ("end", &[&kinds::UNKNOWN_WRAP]),
    ("file", &[&kinds::UNKNOWN_FILE]),
    ("serial", &[&kinds::UNKNOWN_KIT]),
    ("number", &[&kinds::UNKNOWN_PACK, &kinds::VOID_PACK]),
    ("save", &[&kinds::UNKNOWN_SAVE]),
    ("notice", &[&kinds::UNKNOWN_NOTICE]),
    ("hold", &[&kinds::UNKNOWN_HOLD]),
    ("customer", &[&kinds::UNKNOWN_CUSTOMER]),
    ("delivery", &[&kinds::UNKNOWN_DELIVERY]),
    ("job", &[&kinds::UNKNOWN_JOB]),
];

/// What stands in the way of what an operation does.
const OF_OPERATIONS: &[(&str, Kinds)] = &[
    ("acknowledgeRecall", &[&kinds::NOT_RECALLED]),
    ("addNote", &[&kinds::INVALID_REQUEST]),
    ("completeNotice", &[&kinds::STATE_FORBIDS]),
    ("createDesign", &[&kinds::DESIGN_EXISTS]),
    ("createToken", &[&kinds::NOT_SHOWN_AGAIN]),
    ("createBuilderToken", &[&kinds::NOT_SHOWN_AGAIN]),
    ("downloadKitFile", &[&kinds::NOT_DRAWN, &kinds::STOP_SHEET_FIRST, &kinds::ON_HOLD]),
    ("downloadPack", &[&kinds::STOP_SHEET_FIRST, &kinds::ON_HOLD]),
    ("downloadRevisionFile", &[&kinds::NOT_DRAWN, &kinds::NOT_IN_FORCE]),
    ("drawDraftPack", &[&kinds::NO_DRAFT, &kinds::DESIGN_HAS_ERRORS, &kinds::NOT_DRAWN]),
    ("freezeDraft", &[&kinds::NO_DRAFT, &kinds::STATE_FORBIDS, &kinds::DESIGN_HAS_ERRORS]),
    ("holdKit", &[&kinds::HELD_ALREADY]),
    ("importDesign", &[&kinds::DESIGN_EXISTS, &kinds::FILE_REFUSED]),
    ("importKits", &[&kinds::KITS_NOT_IMPORTED]),
    (
        "issuePack",
        &[
            &kinds::STOP_SHEET_FIRST,
            &kinds::ON_HOLD,
            &kinds::NOT_DRAWN,
            &kinds::PACKS_USED_UP,
            &kinds::BUSY,
            &kinds::KEY_NOT_IN_FORCE,
            &kinds::NO_ROOM,
        ],
    ),
    ("listEvents", &[&kinds::EVENTS_FORGOTTEN]),
    ("measureKit", &[&kinds::NOT_MEASURABLE]),
    ("moveKit", &[&kinds::IS_THERE, &kinds::NOT_IN_FORCE]),
    ("planKitStock", &[&kinds::STOCK_REFUSED]),
    ("planRevisionStock", &[&kinds::STOCK_REFUSED]),
    ("planStock", &[&kinds::STOCK_REFUSED]),
    ("planStockOfKits", &[&kinds::STOCK_REFUSED]),
    ("computeJointCases", &[&kinds::JOINT_REFUSED]),
    (
        "publishDraft",
        &[
            &kinds::NO_DRAFT,
            &kinds::DESIGN_HAS_ERRORS,
            &kinds::WARNINGS_OPEN,
            &kinds::NOTHING_CHANGED,
            &kinds::FREEZE_FIRST,
            &kinds::SECOND_PERSON,
            &kinds::NOT_IN_FORCE,
        ],
    ),
    ("readDraft", &[&kinds::NO_DRAFT]),
    ("readRecall", &[&kinds::NOT_RECALLED]),
    ("recallRevision", &[&kinds::NOT_IN_FORCE, &kinds::STATE_FORBIDS]),
    ("registerKit", &[&kinds::KIT_EXISTS, &kinds::UNKNOWN_DESIGN, &kinds::UNKNOWN_REVISION, &kinds::NOT_IN_FORCE]),
    ("reinstateRevision", &[&kinds::NOT_IN_FORCE, &kinds::STATE_FORBIDS]),
    ("retryDelivery", &[&kinds::SENT_ALREADY]),
    ("revokeToken", &[&kinds::LAST_PUBLISHER]),
    ("rotateToken", &[&kinds::TOKEN_ENDED]),
    ("signIn", &[&kinds::SIGN_IN_REFUSED, &kinds::TOO_MANY_ATTEMPTS]),
    ("startPackJob", &[&kinds::NOT_IN_FORCE]),
    ("takeFigures", &[&kinds::FIGURES_DIFFER]),
    ("thawDraft", &[&kinds::NO_DRAFT, &kinds::STATE_FORBIDS]),
    ("withdrawRevision", &[&kinds::NOT_IN_FORCE, &kinds::STATE_FORBIDS]),
    ("writeDraft", &[&kinds::STATE_FORBIDS]),
];

/// Adds to an operation the answers that are problems.
pub fn describe(method: &str, operation: &mut Value) {
    let mut found: BTreeMap<u16, Vec<Kind>> = BTreeMap::new();
    for kind in kinds_of(method, operation) {
        found.entry(kind.status().as_u16()).or_default().push(kind);
    }
    let problem = operation["responses"]["default"]["content"].clone();
    for (status, kinds) in found {
        let says = kinds.iter().map(|kind| format!("`/problems/{}`: {}", kind.slug(), kind.title(&EN)));
        let mut answer = json!({"description": says.collect::<Vec<_>>().join("\n\n"), "content": problem.clone()});
        if [429, 503].contains(&status) {
            let schema = json!({"type": "integer", "minimum": 0});
            answer["headers"] = json!({"retry-after": {"description": "Seconds to wait", "schema": schema}});
        }
        operation["responses"][status.to_string()] = answer;
    }
}

fn kinds_of(method: &str, operation: &Value) -> Vec<Kind> {
    let parameters = operation["parameters"].as_array().map(Vec::as_slice).unwrap_or_default();
    let takes = |place: &str, name: &str| parameters.iter().any(|one| one["in"] == place && one["name"] == name);
    let mut found: Vec<Kind> = vec![(&kinds::BAD_REQUEST).into(), (&kinds::TOO_MANY_REQUESTS).into()];
    let mut add = |some: &[&'static refusals::Kind]| found.extend(some.iter().map(|kind| Kind::from(*kind)));
    for (_, some) in OF_PARAMETERS.iter().filter(|(name, _)| takes("path", name)) {
        add(some);
    }
    if takes("header", "If-Match") {
        add(&[&kinds::CONDITION_NEEDED, &kinds::CONDITION_FAILED]);
    }
    if takes("header", "Idempotency-Key") {
        add(&[&kinds::KEY_REUSED]);
    }
    if operation["requestBody"].is_object() {
        add(&[&kinds::INVALID_REQUEST]);
    }
    let is_open = operation["security"].as_array().is_none_or(|needed| needed.iter().any(|one| *one == json!({})));
    if !is_open {
        add(&[&kinds::NOT_FOUND]);
        if method != "get" {
            add(&[&kinds::ROLE_NEEDED]);
        }
    }
    for (_, some) in OF_OPERATIONS.iter().filter(|(id, _)| operation["operationId"] == *id) {
        add(some);
    }
    add(&[&kinds::STORE_AWAY, &kinds::INTERNAL]);
    if !is_open {
        found.push((&kinds::TOKEN_NEEDED).into());
    }
    if operation["requestBody"].is_object() {
        found.extend([&kinds::TOO_LARGE, &kinds::MEDIA_TYPE].map(Kind::from));
    }
    let mut kinds: Vec<Kind> = Vec::new();
    for kind in found {
        if !kinds.contains(&kind) {
            kinds.push(kind);
        }
    }
    kinds
}
