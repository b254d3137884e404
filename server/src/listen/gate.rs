//! How many connections are open: in all, and from one address.

use matchmark_service::caller_address::CallerAddress;
use std::collections::HashMap;
use std::net::IpAddr;
use std::sync::{Arc, Mutex, PoisonError};
use tokio::sync::{OwnedSemaphorePermit, Semaphore};

/// The places for connections.
pub struct Gate {
    free: Arc<Semaphore>,
    most_of_one: usize,
    open: Arc<Mutex<HashMap<CallerAddress, usize>>>,
}

/// A place among all; given back when dropped.
pub struct Place(#[expect(dead_code, reason = "it is held")] OwnedSemaphorePermit);

/// A place among those of one address; given back when dropped.
pub struct Share {
    whence: CallerAddress,
    open: Arc<Mutex<HashMap<CallerAddress, usize>>>,
}

impl Gate {
    /// So many places in all, and so many for one address.
    pub fn new(most: usize, most_of_one: usize) -> Self {
        Self { free: Arc::new(Semaphore::new(most)), most_of_one, open: Arc::default() }
    }

    /// Waits for a place among all.
    pub async fn place(&self) -> Option<Place> {
        // The semaphore is never closed.
        Arc::clone(&self.free).acquire_owned().await.ok().map(Place)
    }

    /// A place among those of an address; `None` when it has all of them.
    pub fn share(&self, address: IpAddr) -> Option<Share> {
        let whence = CallerAddress::from(address);
        let mut open = self.open.lock().unwrap_or_else(PoisonError::into_inner);
        let count = open.entry(whence).or_default();
        if *count >= self.most_of_one {
            return None;
        }
        *count += 1;
        Some(Share { whence, open: Arc::clone(&self.open) })
    }
}

impl Drop for Share {
    fn drop(&mut self) {
        let mut open = self.open.lock().unwrap_or_else(PoisonError::into_inner);
        if let Some(count) = open.get_mut(&self.whence) {
            *count -= 1;
            if *count == 0 {
                open.remove(&self.whence);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn one_address_has_its_share_and_no_more() {
        let gate = Gate::new(9, 2);
        let [one, other]: [IpAddr; 2] = ["192.0.2.1", "192.0.2.2"].map(|text| text.parse().unwrap());
        let (first, second) = (gate.share(one), gate.share(one));
        assert!(first.is_some() && second.is_some());
        assert!(gate.share(one).is_none());
        assert!(gate.share(other).is_some(), "others have their own");
        drop(first);
        assert!(gate.share(one).is_some());
        drop(second);
        assert!(gate.open.lock().unwrap().is_empty(), "who has none open is forgotten");
    }
}
