//! The work on jobs that issue packs: one kit after the other, by whichever process holds the job's lease.
//!
//! A process that dies leaves a lease that soon runs out; another, or the same started again, goes on with the next kit. The kit
//! that was in hand is safe: its pack and the answer to the job are one transaction, so that asking again gives the same pack.

use crate::packs::drawn_with::DrawnWith;
use crate::packs::job_faults::JobFault;
use crate::rules::events::{Happened, JobEnd};
use crate::rules::idempotency::Numbered;
use crate::rules::lookup::readable_kit;
use crate::rules::request_identity::for_packs;
use crate::rules::standing::Standings;
use crate::{IdempotentCall, NewPack, Principal, Role, Service, ServiceError};
use matchmark_core::pack::{Hands, Paper};
use matchmark_store::pack_jobs::{self, JobKitRow, JobRow};
use matchmark_store::packs;
use std::sync::Arc;
use std::time::Duration;

/// Nobody else works on a job for this long after its lease was renewed.
const LEASE: time::Duration = time::Duration::seconds(8);

/// How often it is renewed.
const RENEW_EVERY: Duration = Duration::from_secs(2);

/// How often to look for a job that another process left or took in.
const LOOK_EVERY: Duration = Duration::from_secs(2);

/// How often a kit is tried when the service is busy.
const ATTEMPTS: usize = 10;

/// What became of a kit.
enum Outcome {
    Issued(i64),
    Current(i64),
    Refused(JobFault),
}

/// What to do next on a job.
enum Step {
    Kit(String),
    /// Over, or another's.
    Nothing,
}

impl Service {
    /// Works on jobs until told to stop.
    pub async fn work_on_pack_jobs(self: Arc<Self>) {
        let mut stopping = self.stopping.subscribe();
        while !*stopping.borrow() {
            match self.claim_job().await {
                Ok(Some(job)) => {
                    if let Err(error) = self.work_on(&job).await {
                        self.note(&error);
                        tracing::error!(%error, job = job.number, "a job has stopped and will be resumed");
                    }
                }
                Ok(None) => {
                    tokio::select! {
                        () = self.job_news.notified() => {}
                        () = tokio::time::sleep(LOOK_EVERY) => {}
                        _ = stopping.changed() => {}
                    }
                }
                Err(error) => {
                    self.note(&error);
                    tracing::error!(%error, "jobs cannot be read");
                    tokio::time::sleep(LOOK_EVERY).await;
                }
            }
        }
    }

    async fn claim_job(&self) -> Result<Option<JobRow>, ServiceError> {
        let now = self.clock.stamp();
        {
            // Most often there is none, which is no reason to keep others from writing.
            let mut read = self.store.read().await?;
            if pack_jobs::unclaimed(&mut read, now.at()).await?.is_none() {
                return Ok(None);
            }
        }
        let mut write = self.store.write().await?;
        let Some(job) = pack_jobs::unclaimed(&mut write, now.at()).await? else {
            return Ok(None);
        };
        pack_jobs::lease(&mut write, job.number, &self.process, self.clock.stamp_in(LEASE).at()).await?;
        write.commit().await?;
        Ok(Some(job))
    }

    async fn work_on(&self, job: &JobRow) -> Result<(), ServiceError> {
        loop {
            if *self.stopping.borrow() {
                return self.give_back(job).await;
            }
            let Step::Kit(serial) = self.next_step(job).await? else {
                return Ok(());
            };
            let outcome = self.pack_while_leased(job, &serial).await?;
            self.record_result(job, serial, outcome).await?;
        }
    }

    /// Issues the pack of one kit and renews the lease meanwhile.
    async fn pack_while_leased(&self, job: &JobRow, serial: &str) -> Result<Outcome, ServiceError> {
        let mut work = std::pin::pin!(self.pack_of(job, serial));
        loop {
            tokio::select! {
                outcome = &mut work => return outcome,
                () = tokio::time::sleep(RENEW_EVERY) => {
                    // Whoever takes the job up meanwhile gets the same pack for this kit.
                    if let Err(error) = self.renew(job).await {
                        tracing::warn!(%error, job = job.number, "a lease could not be renewed");
                    }
                }
            }
        }
    }

    /// Renews the lease and finds the next kit; ends the job when there is none or it was cancelled.
    async fn next_step(&self, job: &JobRow) -> Result<Step, ServiceError> {
        let mut write = self.store.write().await?;
        let now = match pack_jobs::find(&mut write, job.number).await? {
            Some(now) if now.leased_by == self.process && now.finished_at.is_none() => now,
            _ => return Ok(Step::Nothing),
        };
        let next = match now.cancelled_at {
            None => pack_jobs::next_kit(&mut write, job.number).await?,
            Some(_) => None,
        };
        let step = match next {
            Some(kit) => {
                pack_jobs::lease(&mut write, job.number, &self.process, self.clock.stamp_in(LEASE).at()).await?;
                Step::Kit(kit)
            }
            None => {
                let stamp = self.clock.stamp();
                pack_jobs::finish(&mut write, job.number, stamp.at()).await?;
                let end = if now.cancelled_at.is_some() { JobEnd::Cancelled } else { JobEnd::Done };
                let happened = Happened::job_ended(job.number, &job.design, &job.revision, end);
                self.happened(&mut write, happened, &stamp).await?;
                Step::Nothing
            }
        };
        write.commit().await?;
        Ok(step)
    }

    async fn renew(&self, job: &JobRow) -> Result<(), ServiceError> {
        let mut write = self.store.write().await?;
        if pack_jobs::find(&mut write, job.number).await?.is_some_and(|now| now.leased_by == self.process) {
            pack_jobs::lease(&mut write, job.number, &self.process, self.clock.stamp_in(LEASE).at()).await?;
            write.commit().await?;
        }
        Ok(())
    }

    async fn give_back(&self, job: &JobRow) -> Result<(), ServiceError> {
        let mut write = self.store.write().await?;
        if pack_jobs::find(&mut write, job.number).await?.is_some_and(|now| now.leased_by == self.process) {
            pack_jobs::lease(&mut write, job.number, "", "").await?;
            write.commit().await?;
        }
        Ok(())
    }

    /// Issues the pack of one kit, if it needs one. An error that is nobody's fault is tried again later.
    async fn pack_of(&self, job: &JobRow, serial: &str) -> Result<Outcome, ServiceError> {
        for _ in 0..ATTEMPTS {
            match self.pack_of_now(job, serial).await {
                Err(ServiceError::Busy) => tokio::time::sleep(Duration::from_secs(1)).await,
                Err(
                    error @ (ServiceError::DatabaseAway
                    | ServiceError::PacksAway
                    | ServiceError::NoRoom
                    | ServiceError::DiskFailed
                    | ServiceError::NotSynced
                    | ServiceError::Store(_)
                    | ServiceError::CutOff),
                ) => return Err(error),
                Err(error) => return Ok(Outcome::Refused(JobFault::of(error))),
                done => return done,
            }
        }
        Err(ServiceError::Busy)
    }

    async fn pack_of_now(&self, job: &JobRow, serial: &str) -> Result<Outcome, ServiceError> {
        let who = Principal { token: job.created_by.clone(), role: Role::Support, read_only: false };
        let once =
            IdempotentCall::new(&who.token, format!("pack-jobs/{}/{serial}", job.number), Some("once".to_owned()), &[]);
        let paper = job.paper.as_deref().and_then(|name| Paper::ALL.into_iter().find(|paper| paper.name() == name));
        let mut new = NewPack { paper, ..NewPack::default() };
        {
            let mut read = self.store.read().await?;
            if let Some(Numbered { number }) = once.answered(&mut read).await? {
                return Ok(Outcome::Issued(number));
            }
            let kit = readable_kit(&mut read, &who, serial).await?;
            if kit.design != job.design || kit.revision != job.revision {
                return Err(ServiceError::KitHasMoved { kit: kit.serial, letter: kit.revision });
            }
            if let Some(last) = packs::last(&mut read, serial).await? {
                if Standings::read(&mut read, kit.clone()).await?.lacks_a_hand(&last) {
                    new.hands = Some(Hands::Both);
                }
                let wanted = DrawnWith::read(&mut read, &kit, &new).await?;
                if wanted.is_that_of(&mut read, &last).await? {
                    return Ok(Outcome::Current(last.number));
                }
            }
        }
        Ok(Outcome::Issued(for_packs(self.issue_pack(&who, serial, &new, &once)).await?.number))
    }

    async fn record_result(&self, job: &JobRow, kit: String, result: Outcome) -> Result<(), ServiceError> {
        let stamp = self.clock.stamp();
        let (state, pack, problem) = match &result {
            Outcome::Issued(number) => ("issued", Some(*number), String::new()),
            Outcome::Current(number) => ("current", Some(*number), String::new()),
            Outcome::Refused(fault) => ("refused", None, fault.kept()),
        };
        let row =
            JobKitRow { kit, state: state.to_owned(), place: None, pack, problem, at: Some(stamp.at().to_owned()) };
        let mut write = self.store.write().await?;
        pack_jobs::record(&mut write, job.number, &row).await?;
        Ok(write.commit().await?)
    }
}
