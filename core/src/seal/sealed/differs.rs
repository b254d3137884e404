//! What of a page is not as its code says. The code holds one hash of all, so that it is found by trial: with what pages of the same
//! file show that are as signed, and with what each page has that we write, which is one size for all boxes, no turn and no scale.

use super::account::CodeStream;
use super::canonical::{Canonical, Hash};
use super::page::{Frame, Shown, shown};
use super::tree::Leaf;
use crate::seal::{HASH_BYTES, PageStatement};
use crate::words::findings::seal::{DifferingParts, SealFault, ShownPart};
use lopdf::Document;

/// Most that is tried of each kind.
const MOST: usize = 6;

/// What pages of a file show that are as signed.
#[derive(Default)]
pub(crate) struct Usual {
    frames: Vec<Frame>,
    resources: Vec<Hash>,
}

impl Usual {
    /// Of the pages that are as signed.
    pub(crate) fn of<'a: 'leaf, 'leaf>(
        canonical: &mut Canonical<'a>,
        file: &'a Document,
        sound: impl Iterator<Item = &'leaf Leaf<'a>>,
    ) -> Self {
        let mut usual = Self::default();
        for leaf in sound {
            let Ok(Shown { frame, resources, .. }) = Shown::of(canonical, file, leaf, Vec::new()) else { continue };
            add(&mut usual.frames, frame);
            add(&mut usual.resources, resources);
        }
        usual
    }

    /// What of a page that is not as signed differs.
    pub(crate) fn differences<'a>(
        &self,
        canonical: &mut Canonical<'a>,
        file: &'a Document,
        leaf: &Leaf<'a>,
        statement: &PageStatement,
    ) -> SealFault {
        let found = shown(canonical, file, leaf)
            .ok()
            .and_then(|(now, code)| self.named(&now, &CodeStream::read(&code)?, &statement.content));
        SealFault::PageDiffers(DifferingParts(found.unwrap_or_else(|| vec![ShownPart::Unknown])))
    }

    fn named(&self, now: &Shown, code: &CodeStream, content: &str) -> Option<Vec<ShownPart>> {
        let mut frames = vec![now.frame.clone()];
        let plain = now.frame.sides.iter().map(|sides| Frame::plain(sides));
        plain.chain(self.frames.iter().cloned()).for_each(|frame| add(&mut frames, frame));
        let mut resources = vec![now.resources];
        self.resources.iter().for_each(|other| add(&mut resources, *other));
        let mut streams = vec![now.streams.clone()];
        now.streams.iter().for_each(|stream| add(&mut streams, vec![*stream]));
        for streams in streams {
            for resources in &resources {
                for frame in &frames {
                    let then = Shown { streams: streams.clone(), frame: frame.clone(), resources: *resources };
                    if code.signed(&then).get(..2 * HASH_BYTES) == Some(content) {
                        return Some(now.differs_from(&then));
                    }
                }
            }
        }
        // What other pages have that are as signed is so here.
        let is_usual = self.frames.contains(&now.frame) && self.resources.contains(&now.resources);
        is_usual.then(|| vec![ShownPart::Drawing])
    }
}

impl Shown {
    fn differs_from(&self, signed: &Self) -> Vec<ShownPart> {
        let (now, then) = (&self.frame, &signed.frame);
        let parts = [
            (now.sides != then.sides, ShownPart::Size),
            (now.turn != then.turn, ShownPart::Turn),
            (now.unit != then.unit, ShownPart::Scale),
            (self.resources != signed.resources, ShownPart::Resources),
            (self.streams != signed.streams, ShownPart::Drawing),
        ];
        parts.into_iter().filter(|(differs, _)| *differs).map(|(_, part)| part).collect()
    }
}

fn add<T: PartialEq>(all: &mut Vec<T>, one: T) {
    if all.len() < MOST && !all.contains(&one) {
        all.push(one);
    }
}
