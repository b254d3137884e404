//! Metadata (XMP, ISO 16684-1) in a form that does not change when a saver writes it again: names and values, without dates and
//! programs of savers, without how the text is laid out.

use quick_xml::escape::resolve_predefined_entity;
use quick_xml::events::{BytesStart, Event};
use quick_xml::name::ResolveResult;
use quick_xml::{NsReader, XmlVersion};

/// What savers write anew, by name space and name; viewers only list it.
const SAVERS: [(&str, &str); 3] = [
    ("http://ns.adobe.com/xap/1.0/", "ModifyDate"),
    ("http://ns.adobe.com/xap/1.0/", "MetadataDate"),
    ("http://ns.adobe.com/pdf/1.3/", "Producer"),
];

/// The wrapper, whose only attribute names the program that wrote it.
const WRAPPER: (&str, &str) = ("adobe:ns:meta/", "xmpmeta");

/// The form of a packet; `None` when it cannot be read with certainty.
pub(super) fn form(packet: &[u8]) -> Option<String> {
    let mut reader = NsReader::from_str(std::str::from_utf8(packet).ok()?);
    reader.config_mut().expand_empty_elements = true;
    let mut form = String::new();
    let mut text = String::new();
    let mut is_savers = false;
    loop {
        let (space, event) = reader.read_resolved_event().ok()?;
        let space = named(&space)?;
        match event {
            Event::Start(start) => {
                flush(&mut text, &mut form);
                if is_savers {
                    return None;
                }
                let name = String::from_utf8(start.local_name().as_ref().to_vec()).ok()?;
                is_savers = SAVERS.contains(&(&space, &name));
                let wrapper = WRAPPER == (&space, &name);
                if !is_savers {
                    form.push_str(&format!("<{space} {name}"));
                }
                if !is_savers && !wrapper {
                    form.push_str(&attributes(&reader, &start)?);
                }
            }
            Event::End(_) if is_savers => {
                text.clear();
                is_savers = false;
            }
            Event::End(_) => {
                flush(&mut text, &mut form);
                form.push('>');
            }
            Event::Text(part) => text.push_str(&part.decode().ok()?),
            Event::CData(part) => text.push_str(&part.decode().ok()?),
            Event::GeneralRef(entity) => match entity.resolve_char_ref().ok()? {
                Some(character) => text.push(character),
                None => text.push_str(resolve_predefined_entity(&entity.decode().ok()?)?),
            },
            Event::Comment(_) | Event::PI(_) | Event::Decl(_) => {}
            Event::DocType(_) | Event::Empty(_) => return None,
            Event::Eof => return text.trim().is_empty().then_some(form),
        }
    }
}

/// Puts what stood between two tags into the form.
fn flush(text: &mut String, form: &mut String) {
    if !text.trim().is_empty() {
        form.push_str(&format!("={:?}", text.trim()));
    }
    text.clear();
}

fn named(space: &ResolveResult) -> Option<String> {
    match space {
        ResolveResult::Bound(space) => String::from_utf8(space.as_ref().to_vec()).ok(),
        ResolveResult::Unbound => Some(String::new()),
        ResolveResult::Unknown(_) => None,
    }
}

fn attributes(reader: &NsReader<&[u8]>, start: &BytesStart) -> Option<String> {
    let mut found = Vec::new();
    for attribute in start.attributes() {
        let attribute = attribute.ok()?;
        if attribute.key.as_namespace_binding().is_none() {
            let (space, name) = reader.resolver().resolve_attribute(attribute.key);
            let name = std::str::from_utf8(name.as_ref()).ok()?.to_owned();
            found.push(format!(
                " {} {name}={:?}",
                named(&space)?,
                attribute.normalized_value(XmlVersion::Implicit1_0).ok()?
            ));
        }
    }
    found.sort();
    Some(found.concat())
}
