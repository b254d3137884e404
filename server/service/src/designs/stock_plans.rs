//! Stock plans of revisions and kits: their parts by section, with the bars and the saw that the caller names.

use crate::rules::lookup::readable_kit;
use crate::rules::release::{may_build_from, must_be_open};
use crate::words::of_problems;
use crate::{FieldError, Principal, Role, Service, ServiceError};
use matchmark_core::document::{OneKit, pointer_step};
use matchmark_core::sheets::StockSection;
use matchmark_core::stock::{
    MOST_SECONDS, Mitre, Plan, RectSize, Request, RoundSize, Size, Stock, USUAL_SECONDS, WantedPart,
};
use serde::{Deserialize, Serialize};
use std::collections::{BTreeMap, BTreeSet};
use std::time::{Duration, Instant};
use utoipa::ToSchema;

/// Most kits in one plan.
const MOST_KITS: u32 = 1_000;

/// Most serials in one plan.
const MOST_SERIALS: usize = 200;

/// Where several kits are named.
const SERIALS: &str = "/serials";

/// Longest allowance of the saw, mm.
const MOST_ALLOWANCE: f64 = 100.0;

/// What is to be planned. What is said of a section goes before what is said of all, and that before what the design says.
#[derive(Debug, Clone, Default, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct StockWanted {
    /// How many kits, 1 to 1000; 1 when absent.
    pub kits: Option<u32>,
    /// What the saw leaves on each blank, mm, 0 to 100; nothing when absent.
    pub saw_allowance: Option<f64>,
    /// Seconds for all sections together, more than 0 and at most 60; 5 when absent.
    pub time_limit_s: Option<f64>,
    /// Width of the saw's cut, mm.
    pub kerf: Option<f64>,
    /// Cut off the first end of each bar, mm.
    pub trim: Option<f64>,
    /// Shortest remnant worth keeping, mm.
    pub min_remnant: Option<f64>,
    /// Most equal bars cut together.
    pub bundle: Option<u32>,
    /// Saw and bars by name of the section.
    #[serde(default)]
    pub sections: BTreeMap<String, SectionStock>,
}

/// Saw and bars of one section.
#[derive(Debug, Clone, Default, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct SectionStock {
    /// Width of the saw's cut, mm.
    pub kerf: Option<f64>,
    /// Cut off the first end of each bar, mm.
    pub trim: Option<f64>,
    /// Shortest remnant worth keeping, mm.
    pub min_remnant: Option<f64>,
    /// Most equal bars cut together.
    pub bundle: Option<u32>,
    /// The bars; the lengths of the design in any number when absent.
    pub stock: Option<Vec<Stock>>,
}

/// Kits whose parts are cut together.
#[derive(Debug, Clone, Deserialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct StockForKits {
    /// Serials of the kits, 1 to 200.
    pub serials: Vec<String>,
    /// What is to be planned; its `kits` counts each serial so often.
    #[serde(default)]
    pub plan: StockWanted,
}

/// The plans of all sections.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct SectionPlans {
    /// Sections with stock, by name.
    pub sections: Vec<SectionPlan>,
    /// Sections that neither the request nor the design names stock of.
    pub without_stock: Vec<SectionWithoutStock>,
}

/// The plan of one section.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct SectionPlan {
    /// Name of the section.
    pub section: String,
    /// Section as a fitter calls it.
    pub size: String,
    /// Name of the material.
    pub material: String,
    /// Width of the saw's cut, mm.
    pub kerf: f64,
    /// Cut off the first end of each bar, mm.
    pub trim: f64,
    /// The parts as the plan names them.
    pub parts: Vec<SectionPart>,
    /// How to cut them.
    pub plan: Plan,
}

/// A part of a section.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct SectionPart {
    /// What the plan calls it.
    pub id: String,
    /// Its part number.
    pub number: String,
    /// Length to saw, mm, with what the saw is to leave on.
    pub length: f64,
    /// How many.
    pub count: u32,
}

/// A section without stock.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct SectionWithoutStock {
    /// Name of the section.
    pub section: String,
    /// Section as a fitter calls it.
    pub size: String,
    /// How many parts are wanted of it.
    pub parts: u32,
}

/// One frame's parts, so many times.
struct Lot {
    design: String,
    serial: String,
    kits: u32,
    sections: Vec<StockSection>,
}

/// The parts of one section from all lots.
struct Gathered {
    section: StockSection,
    parts: Vec<(SectionPart, [Option<Mitre>; 2])>,
}

impl Service {
    /// Plans for so many kits of a revision.
    pub async fn stock_of_revision(
        &self,
        who: &Principal,
        design: &str,
        letter: &str,
        wanted: StockWanted,
    ) -> Result<SectionPlans, ServiceError> {
        let kits = wanted.checked()?;
        {
            let mut read = self.store.read().await?;
            may_build_from(&mut read, who, design, letter).await?;
        }
        let sheets = self.known_sheets(design, letter, OneKit::default()).await?;
        let sections = sheets.sheets()?.stock.clone();
        let lot = Lot { design: design.to_owned(), serial: String::new(), kits, sections };
        self.plans(&[lot], &wanted).await
    }

    /// Plans for a kit with its choices and measured values.
    pub async fn stock_of_kit(
        &self,
        who: &Principal,
        serial: &str,
        wanted: StockWanted,
    ) -> Result<SectionPlans, ServiceError> {
        let kits = wanted.checked()?;
        let lot = self.lot(who, serial, kits).await?;
        self.plans(&[lot], &wanted).await
    }

    /// Plans for several kits at once.
    pub async fn stock_of_kits(&self, who: &Principal, asked: StockForKits) -> Result<SectionPlans, ServiceError> {
        who.may_support()?;
        let kits = asked.plan.checked().map_err(within_plan)?;
        let different: BTreeSet<&String> = asked.serials.iter().collect();
        if different.len() != asked.serials.len() || !(1..=MOST_SERIALS).contains(&asked.serials.len()) {
            return Err(refused(SERIALS, of_problems().stock.serials(MOST_SERIALS)));
        }
        let mut lots = Vec::with_capacity(asked.serials.len());
        for (index, serial) in asked.serials.iter().enumerate() {
            let lot = self.lot(who, serial, kits).await.map_err(|error| match error {
                ServiceError::UnknownKit(_) => refused(&format!("/serials/{index}"), error.to_string()),
                other => other,
            });
            lots.push(lot?);
        }
        self.plans(&lots, &asked.plan).await.map_err(within_plan)
    }

    async fn lot(&self, who: &Principal, serial: &str, kits: u32) -> Result<Lot, ServiceError> {
        let kit = {
            let mut read = self.store.read().await?;
            let kit = readable_kit(&mut read, who, serial).await?;
            if matches!(who.role, Role::Builder { .. }) {
                must_be_open(&mut read, who, &kit, &kit.revision).await?;
            }
            kit
        };
        let one_kit = self.one_kit(&kit).await?;
        let sheets = self.known_sheets(&kit.design, &kit.revision, one_kit).await?;
        let sections = sheets.sheets()?.stock.clone();
        Ok(Lot { design: kit.design, serial: kit.serial, kits, sections })
    }

    async fn plans(&self, lots: &[Lot], wanted: &StockWanted) -> Result<SectionPlans, ServiceError> {
        let gathered = gather(lots, wanted.saw_allowance.unwrap_or(0.0))?;
        wanted.names_known(&gathered)?;
        let mut answer = SectionPlans { sections: Vec::new(), without_stock: Vec::new() };
        let mut open = Vec::new();
        for (name, gathered) in gathered {
            match wanted.request(&name, &gathered) {
                Some(request) => open.push((name, gathered, request)),
                None => answer.without_stock.push(SectionWithoutStock {
                    section: name,
                    size: gathered.section.size.to_string(),
                    parts: gathered.parts.iter().map(|(part, _)| part.count).sum(),
                }),
            }
        }
        let until = Instant::now() + Duration::from_secs_f64(wanted.time_limit_s.unwrap_or(USUAL_SECONDS));
        let count = open.len();
        for (index, (name, gathered, mut request)) in open.into_iter().enumerate() {
            // What one section leaves of its time goes to those after it.
            let left = until.saturating_duration_since(Instant::now()).as_secs_f64();
            let share = left / f64::from(u32::try_from(count - index).unwrap_or(u32::MAX));
            request.time_limit_s = Some(share.clamp(1e-3, MOST_SECONDS));
            let (kerf, trim) = (request.kerf, request.trim);
            let plan = self.engine.stock_plan(request).await.map_err(|error| placed(error, &name))?;
            answer.sections.push(SectionPlan {
                section: name,
                size: gathered.section.size.to_string(),
                material: gathered.section.material,
                kerf,
                trim,
                parts: gathered.parts.into_iter().map(|(part, _)| part).collect(),
                plan,
            });
        }
        Ok(answer)
    }
}

impl StockWanted {
    /// How many kits, when all values are within bounds that no plan would name.
    fn checked(&self) -> Result<u32, ServiceError> {
        let mut errors = Vec::new();
        let mut refuse = |pointer: &str, detail: String| {
            errors.push(FieldError { pointer: pointer.to_owned(), detail });
        };
        let says = &of_problems().stock;
        let kits = self.kits.unwrap_or(1);
        if !(1..=MOST_KITS).contains(&kits) {
            refuse("/kits", says.kits(MOST_KITS));
        }
        if !self.saw_allowance.is_none_or(|allowance| (0.0..=MOST_ALLOWANCE).contains(&allowance)) {
            refuse("/saw_allowance", says.allowance(MOST_ALLOWANCE.to_string()));
        }
        if !self.time_limit_s.is_none_or(|seconds| seconds > 0.0 && seconds <= MOST_SECONDS) {
            refuse("/time_limit_s", says.seconds(MOST_SECONDS.to_string()));
        }
        if errors.is_empty() { Ok(kits) } else { Err(ServiceError::Invalid(errors)) }
    }

    fn names_known(&self, gathered: &BTreeMap<String, Gathered>) -> Result<(), ServiceError> {
        let unknown = self.sections.keys().filter(|name| !gathered.contains_key(*name));
        let errors: Vec<FieldError> = unknown
            .map(|name| {
                let known: Vec<&str> = gathered.keys().map(String::as_str).collect();
                let detail = of_problems().stock.no_section(name, known.join(", "));
                FieldError { pointer: format!("/sections/{}", pointer_step(name)), detail }
            })
            .collect();
        if errors.is_empty() { Ok(()) } else { Err(ServiceError::Invalid(errors)) }
    }

    /// The request of one section; `None` when there is no stock of it.
    fn request(&self, name: &str, gathered: &Gathered) -> Option<Request> {
        let none = SectionStock::default();
        let of_this = self.sections.get(name).unwrap_or(&none);
        let section = &gathered.section;
        let of_design = || section.lengths.iter().map(|&length| Stock { length, price: None, count: None }).collect();
        let stock: Vec<Stock> = of_this.stock.clone().unwrap_or_else(of_design);
        let parts = gathered.parts.iter().map(|(part, [from, to])| WantedPart {
            id: part.id.clone(),
            length: part.length,
            count: part.count,
            from: *from,
            to: *to,
        });
        (!stock.is_empty()).then(|| Request {
            kerf: of_this.kerf.or(self.kerf).unwrap_or(section.kerf),
            trim: of_this.trim.or(self.trim).unwrap_or(section.trim),
            section: Some(section.outside),
            min_remnant: Some(of_this.min_remnant.or(self.min_remnant).unwrap_or(section.min_remnant)),
            bundle: of_this.bundle.or(self.bundle),
            stock,
            parts: parts.collect(),
            time_limit_s: None,
        })
    }
}

/// The parts of all lots by section.
fn gather(lots: &[Lot], allowance: f64) -> Result<BTreeMap<String, Gathered>, ServiceError> {
    let designs: BTreeSet<&str> = lots.iter().map(|lot| lot.design.as_str()).collect();
    let mut gathered: BTreeMap<String, Gathered> = BTreeMap::new();
    for lot in lots {
        for section in &lot.sections {
            let known = gathered
                .entry(section.section.clone())
                .or_insert_with(|| Gathered { section: section.clone(), parts: Vec::new() });
            if !is_one_tube(&known.section, section) {
                let detail = of_problems().stock.two_sizes(
                    &section.section,
                    known.section.size.to_string(),
                    section.size.to_string(),
                );
                return Err(refused(SERIALS, detail));
            }
            for part in &section.parts {
                let number =
                    if designs.len() > 1 { format!("{} {}", lot.design, part.number) } else { part.number.clone() };
                let (length, ends) = (part.length + allowance, [part.from, part.to]);
                let count = part.quantity.saturating_mul(lot.kits);
                let ids = [number.clone(), format!("{number} {}", lot.serial)];
                let is_same = |(known, mitres): &(SectionPart, [Option<Mitre>; 2])| {
                    known.number == part.number && ids.contains(&known.id) && known.length == length && *mitres == ends
                };
                if let Some((known, _)) = known.parts.iter_mut().find(|known| is_same(known)) {
                    known.count = known.count.saturating_add(count);
                    continue;
                }
                let is_taken = known.parts.iter().any(|(known, _)| known.id == ids[0]);
                let [plain, of_kit] = ids;
                let id = if is_taken { of_kit } else { plain };
                known.parts.push((SectionPart { id, number: part.number.clone(), length, count }, ends));
            }
        }
    }
    Ok(gathered)
}

fn is_one_tube(a: &StockSection, b: &StockSection) -> bool {
    let outside = |size: Size| match size {
        Size::Round(RoundSize { od }) => [od, od, od / 2.0],
        Size::Rect(RectSize { width, height, corner }) => [width, height, corner],
    };
    a.size == b.size && a.material == b.material && outside(a.outside) == outside(b.outside)
}

/// Where in this request the trouble lies.
fn placed(error: ServiceError, section: &str) -> ServiceError {
    match error {
        ServiceError::StockRefused { code, pointer, message } => {
            let inner = if pointer.starts_with("/parts") { "" } else { pointer.as_str() };
            let pointer = format!("/sections/{}{inner}", pointer_step(section));
            ServiceError::StockRefused { code, pointer, message: of_problems().stock.of_section(section, message) }
        }
        other => other,
    }
}

fn refused(pointer: &str, detail: String) -> ServiceError {
    ServiceError::Invalid(vec![FieldError { pointer: pointer.to_owned(), detail }])
}

/// The same refusal where what is to be planned stands within a larger request.
fn within_plan(error: ServiceError) -> ServiceError {
    let moved = |pointer: String| if pointer.starts_with(SERIALS) { pointer } else { format!("/plan{pointer}") };
    match error {
        ServiceError::Invalid(errors) => ServiceError::Invalid(
            errors.into_iter().map(|error| FieldError { pointer: moved(error.pointer), ..error }).collect(),
        ),
        ServiceError::StockRefused { code, pointer, message } => {
            ServiceError::StockRefused { code, pointer: moved(pointer), message }
        }
        other => other,
    }
}
