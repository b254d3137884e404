//! Connections to the database, as they are when they are asked for.

use matchmark_store::Pool;
use prometheus_client::collector::Collector;
use prometheus_client::encoding::{DescriptorEncoder, EncodeMetric};
use prometheus_client::metrics::MetricType;
use prometheus_client::metrics::gauge::ConstGauge;
use std::fmt;

/// The pools.
#[derive(Debug)]
pub struct Pools(pub Vec<Pool>);

impl Collector for Pools {
    fn encode(&self, mut encoder: DescriptorEncoder) -> Result<(), fmt::Error> {
        let about = "Open connections to the database";
        let mut family = encoder.encode_descriptor("database_connections", about, None, MetricType::Gauge)?;
        for pool in &self.0 {
            let counts = [("idle", pool.idle), ("busy", pool.open.saturating_sub(pool.idle))];
            for (state, count) in counts {
                let labels = [("purpose", pool.purpose), ("state", state)];
                let gauge = ConstGauge::new(i64::try_from(count).unwrap_or(i64::MAX));
                gauge.encode(family.encode_family(&labels)?)?;
            }
        }
        Ok(())
    }
}
