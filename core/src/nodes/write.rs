//! The answer written into the supplier's own text: only what is new is added, and members are moved only where they must be.

use super::decided::{Decided, Role};
use super::end::EndAt;
use crate::document::other_hand;
use crate::frame::{Frame, Target};
use jsonc_parser::ast::{Object, Value};
use jsonc_parser::common::Ranged;
use jsonc_parser::{CollectOptions, ParseOptions, parse_to_ast};
use std::collections::BTreeMap;

/// A run-on of less is none, mm.
const NO_RUN_ON: f64 = 5e-5;

/// The text of a document with the cuts of open ends, by position in its list of members, and its members in a new order.
pub(super) fn written(text: &str, cuts: &BTreeMap<(usize, usize), String>, order: &[usize]) -> Option<String> {
    let strict = ParseOptions {
        allow_comments: false,
        allow_loose_object_property_names: false,
        allow_trailing_commas: false,
        ..ParseOptions::default()
    };
    let parsed = parse_to_ast(text, &CollectOptions::default(), &strict).ok()?;
    let Some(Value::Object(root)) = parsed.value else { return None };
    let members = root.properties.iter().find(|property| property.name.as_str() == "members")?;
    let Value::Array(members) = &members.value else { return None };
    let listed: Vec<String> = members
        .elements
        .iter()
        .enumerate()
        .map(|(number, member)| match member {
            Value::Object(member) => with_ends(text, member, [0, 1].map(|end| cuts.get(&(number, end)))),
            other => text[other.start()..other.end()].to_owned(),
        })
        .collect();
    let mut out = String::with_capacity(text.len() + 64 * cuts.len());
    let mut copied = 0;
    for (slot, member) in members.elements.iter().enumerate() {
        out.push_str(&text[copied..member.start()]);
        out.push_str(&listed[*order.get(slot)?]);
        copied = member.end();
    }
    out.push_str(&text[copied..]);
    Some(out)
}

/// The text of one member with the cuts of its ends.
fn with_ends(text: &str, member: &Object<'_>, cuts: [Option<&String>; 2]) -> String {
    let new: Vec<String> = [("from", cuts[0]), ("to", cuts[1])]
        .into_iter()
        .filter_map(|(end, cut)| Some(format!("\"{end}\": {}", cut?)))
        .collect();
    let whole = || text[member.start()..member.end()].to_owned();
    if new.is_empty() {
        return whole();
    }
    let ends = member.properties.iter().find(|property| property.name.as_str() == "ends");
    let (into, new) = match ends.map(|ends| &ends.value) {
        Some(Value::Object(ends)) => (ends, new.join(", ")),
        Some(_) => return whole(),
        None => (member, format!("\"ends\": {{{}}}", new.join(", "))),
    };
    let (at, before) = match (into.properties.first(), into.properties.last()) {
        (Some(first), Some(last)) => {
            let space = &text[into.start() + 1..first.start()];
            // On a line of its own where the others are.
            let space = if space.contains('\n') { space } else { " " };
            (last.end(), format!(",{space}"))
        }
        _ => (into.start() + 1, String::new()),
    };
    format!("{}{before}{new}{}", &text[member.start()..at], &text[at..member.end()])
}

/// A cut as the document writes it. Where the document gives both hands at once, `other` is what is decided of the other one: the
/// cut names all that either is fitted to.
pub(super) fn cut(frame: &Frame, decided: &Decided, other: Option<&Decided>) -> String {
    let quoted = |name: &str| format!("\"{name}\"");
    match (decided.role, decided.partner) {
        (Role::RunOn(by), _) if by >= NO_RUN_ON => {
            let by = other.map_or(by, |other| match other.role {
                Role::RunOn(there) => by.max(there),
                _ => by,
            });
            object([("run_on", ((by * 1e4).round() / 1e4).to_string())])
        }
        (Role::Square | Role::RunOn(_), _) => quoted("square"),
        (Role::Mitre, Some(partner)) => object([("mitre", object([("with", quoted(&frame.members[partner.0].id))]))]),
        (Role::Mitre | Role::Cope, _) => {
            let mut names: Vec<String> = decided.onto.iter().map(|&target| frame.name(target).to_owned()).collect();
            for &target in other.into_iter().flat_map(|other| &other.onto) {
                let name = here(frame, target);
                if !names.contains(&name) {
                    names.push(name);
                }
            }
            let names: Vec<String> = names.iter().map(|name| quoted(name)).collect();
            let cope = (!names.is_empty()).then(|| ("cope", format!("[{}]", names.join(", "))));
            let plane = decided.on_middle.then(|| ("mitre", middle_plane(frame, decided.at)));
            object(cope.into_iter().chain(plane))
        }
    }
}

/// The middle plane as a mitre: through the end's own point where that lies in it.
fn middle_plane(frame: &Frame, at: EndAt) -> String {
    let point = crate::frame::fit::tip(&frame.members[at.0], at.1).origin;
    let through = (point.y != 0.0).then(|| ("through", format!("[{}, 0, {}]", point.x, point.z)));
    object([("normal", "[0, 1, 0]".to_owned())].into_iter().chain(through))
}

/// A JSON object on one line.
fn object<'a>(fields: impl IntoIterator<Item = (&'a str, String)>) -> String {
    let fields: Vec<String> = fields.into_iter().map(|(name, value)| format!("\"{name}\": {value}")).collect();
    format!("{{{}}}", fields.join(", "))
}

/// What the first hand is to name so that its opposite is fitted to a target.
fn here(frame: &Frame, target: Target) -> String {
    let name = frame.name(target);
    let has = |other: &String| {
        frame.members.iter().any(|member| member.id == *other) || frame.plates.iter().any(|plate| plate.id == *other)
    };
    other_hand(name).filter(has).unwrap_or_else(|| name.to_owned())
}
