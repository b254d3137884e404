//! The sections of a drawing: header, layers, blocks and entities.

use super::Fault;
use super::codepage::Codepage;
use super::entity::{Entity, Group, Shape};
use super::pairs::{Pair, Pairs};
use crate::report::Code;
use crate::unit::Unit;
use crate::words::dxf::{DxfFault, Kind, UnitHint};
use glam::DVec3;
use matchmark_core::{Stop, Stopped};
use std::collections::BTreeMap;

/// Most entities that are kept, of blocks and the model together.
const MOST_ENTITIES: usize = 400_000;
/// Most pairs of one entity.
const MOST_PAIRS: usize = 2_000_000;

/// A block: entities drawn once and inserted elsewhere.
#[derive(Debug, Default)]
pub struct Block {
    /// What is placed at the insertion point.
    pub base: DVec3,
    /// True when the block is in another file.
    pub external: bool,
    /// What it holds.
    pub entities: Vec<Entity>,
}

/// A drawing as it was read.
#[derive(Debug, Default)]
pub struct Drawing {
    /// Names of layers that are off or frozen, in lower case; true when frozen.
    pub hidden: BTreeMap<String, bool>,
    /// Blocks by name in lower case.
    pub blocks: BTreeMap<String, Block>,
    /// What is drawn in the model.
    pub entities: Vec<Entity>,
    /// What is no curve, by kind, with how many there are and the first line. Kinds that nobody knows are cut short.
    pub others: BTreeMap<String, (usize, u64)>,
    /// How many entities are on paper sheets.
    pub on_paper: usize,
    insunits: Option<i64>,
    measurement: Option<i64>,
    codepage: Codepage,
    version: String,
    kept: usize,
}

/// Most kinds of entities that are told apart.
const MOST_KINDS: usize = 200;

impl Drawing {
    /// Reads all sections.
    pub fn read(pairs: &mut Pairs<'_>, stop: Stop<'_>) -> Result<Result<Self, Fault>, Stopped> {
        let mut drawing = Self::default();
        let read = drawing.read_sections(pairs, stop);
        stop.check()?;
        Ok(read.map(|()| drawing))
    }

    fn read_sections(&mut self, pairs: &mut Pairs<'_>, stop: Stop<'_>) -> Result<(), Fault> {
        let mut sections = 0;
        loop {
            let Some(pair) = pairs.next()? else { return Err(pairs.truncated()) };
            if pair.code != 0 {
                if sections == 0 {
                    return Err(pairs.fault(Code::Malformed, DxfFault::NoSection));
                }
                continue;
            }
            match pair.value.text() {
                b"EOF" => return Ok(()),
                b"SECTION" => {
                    sections += 1;
                    let Some(name) = pairs.next()? else { return Err(pairs.truncated()) };
                    match name.value.text() {
                        b"HEADER" => self.read_header(pairs)?,
                        b"TABLES" => self.read_tables(pairs)?,
                        b"BLOCKS" => self.read_blocks(pairs, stop)?,
                        b"ENTITIES" => {
                            self.read_entities(pairs, stop, &[b"ENDSEC"], None)?;
                        }
                        _ => skip_section(pairs)?,
                    }
                }
                _ => {}
            }
        }
    }

    fn read_header(&mut self, pairs: &mut Pairs<'_>) -> Result<(), Fault> {
        let mut variable: &[u8] = b"";
        let mut page = String::new();
        loop {
            let Some(pair) = pairs.next()? else { return Err(pairs.truncated()) };
            match (pair.code, variable) {
                (0, _) => break,
                (9, _) => variable = pair.value.text(),
                (1, b"$ACADVER") => self.version = String::from_utf8_lossy(pair.value.text()).into_owned(),
                (3, b"$DWGCODEPAGE") => page = String::from_utf8_lossy(pair.value.text()).into_owned(),
                (70, b"$INSUNITS") => self.insunits = pair.value.whole(),
                (70, b"$MEASUREMENT") => self.measurement = pair.value.whole(),
                _ => {}
            }
        }
        self.codepage = Codepage::new(&self.version, &page);
        Ok(())
    }

    /// The unit that the header states.
    pub fn unit(&self) -> Option<Unit> {
        match self.insunits? {
            1 => Some(Unit::Inch),
            2 => Some(Unit::Foot),
            4 => Some(Unit::Millimetre),
            5 => Some(Unit::Centimetre),
            6 => Some(Unit::Metre),
            10 => Some(Unit::Yard),
            _ => None,
        }
    }

    /// What else the header says of units.
    pub fn unit_hint(&self) -> Option<String> {
        let hint = match (self.insunits, self.measurement) {
            (Some(code), _) if code != 0 && self.unit().is_none() => UnitHint::Unusual { code },
            (_, Some(0)) => UnitHint::InchPatterns,
            (_, Some(1)) => UnitHint::MetricPatterns,
            _ => return None,
        };
        Some(hint.to_string())
    }

    fn read_tables(&mut self, pairs: &mut Pairs<'_>) -> Result<(), Fault> {
        let (mut in_layer, mut name, mut flags, mut colour) = (false, String::new(), 0, 1);
        loop {
            let Some(pair) = pairs.next()? else { return Err(pairs.truncated()) };
            if pair.code == 0 {
                if in_layer && (flags & 1 == 1 || colour < 0) {
                    self.hidden.insert(name.to_lowercase(), flags & 1 == 1);
                }
                (in_layer, flags, colour) = (pair.value.text() == b"LAYER", 0, 1);
                if pair.value.text() == b"ENDSEC" {
                    return Ok(());
                }
                continue;
            }
            match pair.code {
                2 if in_layer => name = crate::read::name_of(&self.codepage.read(pair.value.text())),
                70 => flags = pair.value.whole().unwrap_or(0),
                62 => colour = pair.value.whole().unwrap_or(1),
                _ => {}
            }
        }
    }

    fn read_blocks(&mut self, pairs: &mut Pairs<'_>, stop: Stop<'_>) -> Result<(), Fault> {
        let Some(mut pair) = pairs.next()? else { return Err(pairs.truncated()) };
        loop {
            if pair.code == 0 && pair.value.text() == b"ENDSEC" {
                return Ok(());
            }
            if pair.code != 0 || pair.value.text() != b"BLOCK" {
                let Some(next) = pairs.next()? else { return Err(pairs.truncated()) };
                pair = next;
                continue;
            }
            let (mut block, mut name) = (Block::default(), String::new());
            pair = loop {
                let Some(pair) = pairs.next()? else { return Err(pairs.truncated()) };
                match pair.code {
                    0 => break pair,
                    2 => name = self.codepage.read(pair.value.text()),
                    70 => block.external = pair.value.whole().unwrap_or(0) & 4 == 4,
                    10 => block.base.x = real(&pair)?,
                    20 => block.base.y = real(&pair)?,
                    30 => block.base.z = real(&pair)?,
                    _ => {}
                }
            };
            if !(pair.value.text() == b"ENDBLK" || pair.value.text() == b"ENDSEC") {
                let model = core::mem::take(&mut self.entities);
                pair = self.read_entities(pairs, stop, &[b"ENDBLK", b"ENDSEC"], Some(pair))?;
                block.entities = core::mem::replace(&mut self.entities, model);
            }
            self.blocks.insert(name.to_lowercase(), block);
        }
    }

    /// Reads entities up to one of some words, which is returned. `first` was read already.
    fn read_entities<'a>(
        &mut self,
        pairs: &mut Pairs<'a>,
        stop: Stop<'_>,
        ends: &[&[u8]],
        first: Option<Pair<'a>>,
    ) -> Result<Pair<'a>, Fault> {
        let mut group = Group::default();
        let mut open = false;
        let mut held = first;
        let mut count = 0_u32;
        loop {
            let pair = match held.take() {
                Some(pair) => pair,
                None => pairs.next()?.ok_or_else(|| pairs.truncated())?,
            };
            if pair.code != 0 {
                if group.is_wanted() {
                    group.push(pair);
                    if group.len() > MOST_PAIRS {
                        return Err(pairs.fault(Code::TooLarge, DxfFault::EntityTooLarge));
                    }
                }
                continue;
            }
            count = count.wrapping_add(1);
            if count.is_multiple_of(4096) && stop.asked() {
                return Ok(pair);
            }
            // Vertices belong to the polyline before them.
            if open && matches!(pair.value.text(), b"VERTEX" | b"SEQEND") {
                group.next_vertex(&pair);
                open = pair.value.text() == b"VERTEX";
                continue;
            }
            self.keep(&group)?;
            if ends.contains(&pair.value.text()) {
                return Ok(pair);
            }
            if pair.value.text() == b"EOF" || pair.value.text() == b"SECTION" {
                return Err(pairs.truncated());
            }
            open = pair.value.text() == b"POLYLINE";
            group.restart(&pair);
        }
    }

    /// Keeps an entity that draws something, and counts the others.
    fn keep(&mut self, group: &Group<'_>) -> Result<(), Fault> {
        if group.kind().is_empty() {
            return Ok(());
        }
        match group.entity(self.codepage)? {
            Some(entity) if entity.on_paper => self.on_paper += 1,
            Some(Entity { shape: Shape::Other(kind), line, .. }) => {
                let known = self.others.len() < MOST_KINDS || self.others.contains_key(&kind);
                let kind = if known { kind } else { Kind::Others.to_string() };
                self.others.entry(kind).or_insert((0, line)).0 += 1;
            }
            Some(entity) => {
                self.kept += 1;
                if self.kept > MOST_ENTITIES {
                    return Err(Fault {
                        code: Code::TooLarge,
                        line: entity.line,
                        fact: DxfFault::TooManyEntities { most: MOST_ENTITIES },
                    });
                }
                self.entities.push(entity);
            }
            None => {}
        }
        Ok(())
    }
}

fn skip_section(pairs: &mut Pairs<'_>) -> Result<(), Fault> {
    loop {
        let Some(pair) = pairs.next()? else { return Err(pairs.truncated()) };
        if pair.code == 0 && pair.value.text() == b"ENDSEC" {
            return Ok(());
        }
    }
}

/// A coordinate.
pub fn real(pair: &Pair<'_>) -> Result<f64, Fault> {
    pair.value.real().filter(|number| number.abs() < 1e15).ok_or_else(|| Fault {
        code: Code::NotANumber,
        line: pair.line,
        fact: DxfFault::NotANumber {
            text: String::from_utf8_lossy(&pair.value.text()[..pair.value.text().len().min(40)]).into_owned(),
            code: pair.code,
        },
    })
}
