//! Where a kit stands among the revisions of its design, and what its builder may measure.

use crate::kits::measurements::taken_back;
use crate::rules::lookup::{known_document, readable_kit};
use crate::rules::standing::{KitStanding, Standings};
use crate::rules::states::{self, RevisionState};
use crate::{Principal, Service, ServiceError};

/// Where a kit stands.
#[derive(Debug, Clone)]
pub struct Standing {
    /// How its pack stands, in words.
    pub kit: KitStanding,
    /// State of the revision that the kit has.
    pub state: RevisionState,
    /// What can be measured on its frame, in order of name.
    pub gauges: Vec<GaugeView>,
}

/// A quantity that can be measured on a kit's frame.
#[derive(Debug, Clone)]
pub struct GaugeView {
    /// Its name in the design.
    pub name: String,
    /// What is measured, and between which places.
    pub what: String,
    /// Its nominal value, mm.
    pub nominal: f64,
    /// The least that can be taken into account, mm.
    pub least: f64,
    /// The most, mm.
    pub most: f64,
    /// The newest measured value, mm.
    pub measured: Option<f64>,
    /// When it was taken back, where there is none since, RFC 3339 in UTC.
    pub taken_back: Option<String>,
}

impl Service {
    /// How a kit stands, by the pack to build from.
    pub async fn kit_standing(&self, who: &Principal, serial: &str) -> Result<KitStanding, ServiceError> {
        let mut read = self.store.read().await?;
        let kit = readable_kit(&mut read, who, serial).await?;
        Ok(Standings::read(&mut read, kit).await?.of_kit(self.words))
    }

    /// Where a kit stands.
    pub async fn standing(&self, who: &Principal, serial: &str) -> Result<Standing, ServiceError> {
        let (kit, standings, states, document, taken_back) = {
            let mut read = self.store.read().await?;
            let kit = readable_kit(&mut read, who, serial).await?;
            let states = states::of_design(&mut read, &kit.design).await?;
            let document = known_document(&mut read, &kit.design, &kit.revision).await?;
            let standings = Standings::read(&mut read, kit.clone()).await?;
            let taken_back = taken_back(&mut read, serial).await?;
            (kit, standings, states, document, taken_back)
        };
        let measured = self.one_kit(&kit).await?.measured;
        let design = matchmark_core::document::read(&document).design;
        let gauges = design.and_then(|design| design.gauges).unwrap_or_default();
        Ok(Standing {
            kit: standings.of_kit(self.words),
            state: states.of(&kit.revision),
            gauges: gauges
                .into_iter()
                .map(|(name, gauge)| GaugeView {
                    measured: measured.get(&name).copied(),
                    taken_back: taken_back.get(&name).cloned(),
                    name,
                    what: gauge.what.as_str().to_owned(),
                    nominal: gauge.nominal.get(),
                    least: gauge.least.get(),
                    most: gauge.most.get(),
                })
                .collect(),
        })
    }
}
