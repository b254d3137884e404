//! Who asks: under whose name the computations of a request wait for their turn.

use crate::rules::caller_address::CallerAddress;
use crate::{Principal, Role};
use std::future::Future;
use std::net::IpAddr;
use std::sync::{Arc, OnceLock};

tokio::task_local! {
    static ASKING: RequestIdentity;
    static FOR_PACKS: ();
}

/// A party that is counted: who bears a token, or an address as long as nobody has proven to be somebody.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub enum Party {
    /// Jobs and all else that nobody waits for.
    House,
    /// An address, or that of nobody knows whom.
    Address(Option<CallerAddress>),
    /// One kit, whatever token or card its builder shows.
    Kit(String),
    /// A token of the supplier's people, by its id.
    Token(String),
}

impl From<&Principal> for Party {
    fn from(who: &Principal) -> Self {
        match &who.role {
            Role::Builder { kit } => Self::Kit(kit.clone()),
            Role::Publisher | Role::Support => Self::Token(who.token.clone()),
        }
    }
}

/// Goes with a request, to learn who asks.
#[derive(Debug, Clone)]
pub struct RequestIdentity {
    address: Party,
    proven: Arc<OnceLock<Party>>,
}

impl RequestIdentity {
    /// Somebody at an address.
    pub fn from_address(address: Option<IpAddr>) -> Self {
        Self { address: Party::Address(address.map(CallerAddress::from)), proven: Arc::default() }
    }

    /// Whoever looked up the token or cookie says whose it is.
    pub fn is(&self, who: &Principal) {
        // A request has one token; what was proven first stays.
        let _ = self.proven.set(Party::from(who));
    }

    /// The address that it came from.
    pub fn address(&self) -> &Party {
        &self.address
    }

    /// Who it has proven to be.
    pub fn proven(&self) -> Option<&Party> {
        self.proven.get()
    }

    /// Everything that this future computes is asked by this party.
    pub async fn within<T>(self, work: impl Future<Output = T>) -> T {
        ASKING.scope(self, work).await
    }

    /// Who asks here.
    pub fn party() -> Party {
        let asking = ASKING.try_with(|asking| asking.proven().unwrap_or(asking.address()).clone());
        asking.unwrap_or(Party::House)
    }
}

/// Everything that this future computes is for a pack that is issued.
pub async fn for_packs<T>(work: impl Future<Output = T>) -> T {
    FOR_PACKS.scope((), work).await
}

/// Whether what is computed here is for a pack that is issued.
pub fn is_for_packs() -> bool {
    FOR_PACKS.try_with(|()| ()).is_ok()
}
