//! Whose computation is next: places for a few at once, fairly shared, and one kept for packs that are issued.
//!
//! Nobody holds more than a share of the places, and of those that wait it is the turn of who was served longest ago. Each place
//! has threads of its own, so that the operating system shares the processors between them: in one pool the parts of a long
//! computation would go before all of a later one.

use crate::rules::request_identity::Party;
use rayon::{ThreadPool, ThreadPoolBuildError, ThreadPoolBuilder};
use std::collections::{HashMap, VecDeque};
use std::sync::{Arc, Mutex, MutexGuard, PoisonError};
use tokio::sync::oneshot;

/// The places.
#[derive(Clone)]
pub struct Turns(Arc<Mutex<State>>);

struct State {
    /// Threads of the free places, that kept for packs among them.
    free: Vec<Arc<ThreadPool>>,
    /// Most places that one party holds.
    most_of_one: usize,
    waiting: VecDeque<Waiting>,
    parties: HashMap<Party, Served>,
    /// Turns given so far.
    given: u64,
}

/// A party that holds a place or waits for one.
#[derive(Debug, Default)]
struct Served {
    holds: usize,
    waits: usize,
    /// Which turn was its last; none when 0.
    last: u64,
}

struct Waiting {
    party: Party,
    for_packs: bool,
    told: oneshot::Sender<Turn>,
}

/// A place; given back when dropped.
pub struct Turn {
    party: Party,
    threads: Arc<ThreadPool>,
    /// Nothing when the place was never taken.
    turns: Option<Turns>,
}

impl Turns {
    /// So many places and one more for packs, with so many threads each.
    ///
    /// # Errors
    /// When the system gives no threads.
    pub fn new(places: usize, threads: usize) -> Result<Self, ThreadPoolBuildError> {
        let pool = || ThreadPoolBuilder::new().num_threads(threads).build().map(Arc::new);
        let free = (0..=places).map(|_| pool()).collect::<Result<_, _>>()?;
        Ok(Self(Arc::new(Mutex::new(State {
            free,
            most_of_one: (places / 2).max(1),
            waiting: VecDeque::new(),
            parties: HashMap::new(),
            given: 0,
        }))))
    }

    /// Waits for a place. Whoever no longer waits drops the future.
    pub async fn take(&self, party: Party, for_packs: bool) -> Option<Turn> {
        let (told, turn) = oneshot::channel();
        {
            let mut state = self.state();
            state.parties.entry(party.clone()).or_default().waits += 1;
            state.waiting.push_back(Waiting { party, for_packs, told });
            self.hand_out(&mut state);
        }
        turn.await.ok()
    }

    fn state(&self) -> MutexGuard<'_, State> {
        self.0.lock().unwrap_or_else(PoisonError::into_inner)
    }

    /// Gives free places to those whose turn it is.
    fn hand_out(&self, state: &mut State) {
        state.forget_gone();
        while let Some(next) = state.next() {
            let Some(Waiting { party, told, .. }) = state.waiting.remove(next) else { return };
            let Some(threads) = state.free.pop() else { return };
            state.given += 1;
            let given = state.given;
            let served = state.parties.entry(party.clone()).or_default();
            served.waits -= 1;
            served.holds += 1;
            served.last = given;
            let turn = Turn { party, threads, turns: Some(self.clone()) };
            if let Err(mut turn) = told.send(turn) {
                // It went away in this moment; the lock is held, so that the place is not given back by itself.
                turn.turns = None;
                state.put_back(&turn);
            }
        }
    }
}

impl State {
    /// Which of those that wait is next, if any may go on.
    fn next(&self) -> Option<usize> {
        let may = |waiting: &Waiting| {
            let others_may_not = self.free.len() <= 1;
            let holds = self.parties.get(&waiting.party).map_or(0, |served| served.holds);
            !self.free.is_empty() && (waiting.for_packs || !others_may_not) && holds < self.most_of_one
        };
        let last = |waiting: &Waiting| self.parties.get(&waiting.party).map_or(0, |served| served.last);
        let waiting = self.waiting.iter().enumerate().filter(|(_, waiting)| may(waiting));
        // Of equal ones the first is taken, which came first.
        waiting.min_by_key(|(_, waiting)| last(waiting)).map(|(at, _)| at)
    }

    fn forget_gone(&mut self) {
        let mut gone = Vec::new();
        self.waiting.retain(|waiting| {
            let stays = !waiting.told.is_closed();
            if !stays {
                gone.push(waiting.party.clone());
            }
            stays
        });
        for party in gone {
            if let Some(served) = self.parties.get_mut(&party) {
                served.waits -= 1;
            }
            self.forget(&party);
        }
    }

    fn put_back(&mut self, turn: &Turn) {
        self.free.push(Arc::clone(&turn.threads));
        if let Some(served) = self.parties.get_mut(&turn.party) {
            served.holds -= 1;
        }
        self.forget(&turn.party);
    }

    /// Forgets a party that neither holds a place nor waits for one.
    fn forget(&mut self, party: &Party) {
        if self.parties.get(party).is_some_and(|served| served.holds == 0 && served.waits == 0) {
            self.parties.remove(party);
        }
    }
}

impl Turn {
    /// Does work on the threads of this place.
    pub fn work<T: Send>(&self, work: impl FnOnce() -> T + Send) -> T {
        self.threads.install(work)
    }
}

impl Drop for Turn {
    fn drop(&mut self) {
        if let Some(turns) = self.turns.take() {
            let mut state = turns.state();
            state.put_back(self);
            turns.hand_out(&mut state);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::future::Future;
    use std::pin::Pin;
    use std::task::{Context, Poll, Waker};

    /// Someone who waits for a place.
    struct Line(Pin<Box<dyn Future<Output = Option<Turn>>>>);

    impl Line {
        fn up(turns: &Turns, name: &str, for_packs: bool) -> Self {
            let (turns, party) = (turns.clone(), Party::Token(name.to_owned()));
            let mut line = Self(Box::pin(async move { turns.take(party, for_packs).await }));
            // Until it is asked for the first time it stands in no line.
            line.0 = match line.turn() {
                Some(turn) => Box::pin(async { Some(turn) }),
                None => line.0,
            };
            line
        }

        fn turn(&mut self) -> Option<Turn> {
            match self.0.as_mut().poll(&mut Context::from_waker(Waker::noop())) {
                Poll::Ready(turn) => turn,
                Poll::Pending => None,
            }
        }
    }

    #[test]
    fn nobody_takes_all_places_and_one_is_kept_for_packs() {
        let turns = Turns::new(4, 1).unwrap();
        let mut greedy: Vec<Line> = (0..8).map(|_| Line::up(&turns, "greedy", true)).collect();
        let held: Vec<Turn> = greedy.iter_mut().filter_map(Line::turn).collect();
        assert_eq!(held.len(), 2, "a half");
        let others: Vec<Turn> =
            ["a", "b", "c"].iter().filter_map(|name| Line::up(&turns, name, false).turn()).collect();
        assert_eq!(others.len(), 2, "all but the last place");
        assert!(Line::up(&turns, "d", true).turn().is_some(), "which is for packs");
    }

    #[test]
    fn who_was_served_longest_ago_is_next() {
        let turns = Turns::new(1, 1).unwrap();
        let mut first = Line::up(&turns, "greedy", false);
        let mut more: Vec<Line> = (0..3).map(|_| Line::up(&turns, "greedy", false)).collect();
        let mut other = Line::up(&turns, "other", false);
        let held = first.turn().unwrap();
        assert!(more.iter_mut().all(|line| line.turn().is_none()) && other.turn().is_none());
        drop(held);
        let held = other.turn().expect("before the others, which came sooner");
        drop(held);
        let held: Vec<Turn> = more.iter_mut().filter_map(Line::turn).collect();
        assert_eq!(held.len(), 1);
    }

    #[test]
    fn who_goes_away_leaves_nothing_behind() {
        let turns = Turns::new(1, 1).unwrap();
        let held = Line::up(&turns, "one", false).turn().unwrap();
        let (gone, mut stays) = (Line::up(&turns, "gone", false), Line::up(&turns, "stays", false));
        drop(gone);
        drop(held);
        drop(stays.turn().expect("what was given to nobody is free again"));
        // One that was given its turn and went away before it knew.
        let held = Line::up(&turns, "one", false).turn().unwrap();
        let late = Line::up(&turns, "late", false);
        drop(held);
        drop(late);
        assert!(Line::up(&turns, "one", false).turn().is_some());
        let state = turns.state();
        assert!(state.waiting.is_empty() && state.parties.is_empty());
        assert_eq!(state.free.len(), 2);
    }
}
