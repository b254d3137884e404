//! Markdown to HTML: headings get ids, links between files become links between pages, and code blocks say what they are.

use pulldown_cmark::{CodeBlockKind, CowStr, Event, Options, Parser, Tag, TagEnd, html::push_html};

/// The text as HTML.
pub fn html(text: &str) -> String {
    let mut events: Vec<Event> = Parser::new_ext(text, Options::ENABLE_TABLES).collect();
    for place in 0..events.len() {
        let slug = slug_of(&events[place..]);
        match &mut events[place] {
            Event::Start(Tag::Heading { id, .. }) => *id = Some(slug.into()),
            Event::Start(Tag::Link { dest_url, .. } | Tag::Image { dest_url, .. }) => {
                *dest_url = address(dest_url).into();
            }
            Event::Start(Tag::CodeBlock(kind)) => {
                let opening = opening(kind);
                events[place] = opening;
            }
            Event::End(TagEnd::CodeBlock) => events[place] = Event::Html("</code></pre>\n".into()),
            _ => {}
        }
    }
    let mut html = String::with_capacity(text.len() * 2);
    push_html(&mut html, events.into_iter());
    html
}

/// The address of a page or picture that another page names by its file.
pub fn address(link: &str) -> String {
    let (file, place) = link.split_once('#').map_or((link, None), |(file, place)| (file, Some(place)));
    let place = place.map_or(String::new(), |place| format!("#{place}"));
    match file.strip_suffix(".md") {
        Some("index") => format!("/handbook{place}"),
        Some(page) => format!("/handbook/{page}{place}"),
        None if file.starts_with("pictures/") => format!("/handbook/{file}"),
        None => link.to_owned(),
    }
}

/// The words of the heading that begins here, as the last part of an address: small letters, figures and hyphens.
fn slug_of(events: &[Event]) -> String {
    let heading = events.iter().take_while(|event| !matches!(event, Event::End(TagEnd::Heading(_))));
    let mut slug = String::new();
    for event in heading {
        if let Event::Text(words) | Event::Code(words) = event {
            let kept = words.chars().filter(|letter| letter.is_alphanumeric() || matches!(letter, ' ' | '-'));
            slug.extend(kept.map(|letter| if letter == ' ' { '-' } else { letter.to_ascii_lowercase() }));
        }
    }
    slug
}

/// What stands before a code block. The word after the language says what the block is: a file to save, a request to send, an answer.
fn opening(kind: &CodeBlockKind) -> Event<'static> {
    let info: &str = match kind {
        CodeBlockKind::Fenced(info) => info,
        CodeBlockKind::Indented => "",
    };
    let words: Vec<&str> = info.split(' ').collect();
    let caption = match words[..] {
        [_, "file", name] => format!("File {name}"),
        [_, "http", method, path] => format!("{method} {path}"),
        [_, "answer"] => "The answer".to_owned(),
        _ => String::new(),
    };
    let caption = if caption.is_empty() { caption } else { format!("<p class=\"caption\">{caption}</p>\n") };
    // A block that is wider than the page can be reached with the keys.
    Event::Html(CowStr::from(format!("{caption}<pre tabindex=\"0\"><code>")))
}
