//! Finished parts as exact solids (ISO 10303-21): each tube and plate, and the whole frame as an assembly.

use crate::ExportError;
use crate::facts::Subject;
use crate::format::{Entry, Format};
use crate::words::EN;
use matchmark_core::solid::SolidHeading;

/// The whole frame.
const FRAME: &str = "frame.step";

pub(crate) const FORMAT: Format = Format {
    id: "step",
    folder: "solids",
    media_type: "model/step",
    entries: |subject| {
        let entry = |name: String, about: String| Entry { name, about };
        let frame = entry(FRAME.to_owned(), EN.about_assembly().to_owned());
        let parts = subject.sheets.parts.iter().flat_map(|row| {
            let of_part = |id: &String| entry(format!("part-{id}.step"), EN.as_solid(&row.number, id));
            row.members.iter().map(of_part)
        });
        std::iter::once(frame).chain(parts).collect()
    },
    write: |subject, name, stop| {
        if name == FRAME {
            let heading = heading(subject, &subject.facts.design, "");
            return Ok(subject.evaluation.frame_step(&heading, stop)?.text.into_bytes());
        }
        let id = name.strip_prefix("part-").and_then(|rest| rest.strip_suffix(".step"));
        let id = id.ok_or_else(|| ExportError::UnknownFile(name.to_owned()))?;
        let number = subject.number(id);
        let heading = heading(subject, if number.is_empty() { id } else { number }, id);
        let text = match subject.made.plate(id) {
            Some(_) => subject.evaluation.plate_step(id, &heading)?,
            None => subject.evaluation.solid_step_until(id, &heading, stop)?,
        };
        Ok(text.into_bytes())
    },
};

fn heading(subject: &Subject, part: &str, mark: &str) -> SolidHeading {
    let facts = subject.facts;
    let title = facts.title();
    SolidHeading {
        part: part.to_owned(),
        description: if mark.is_empty() { title } else { format!("{mark}, {title}") },
        organization: facts.supplier.clone(),
        date: facts.date.clone(),
    }
}
