//! Who answered a notice or a stop sheet of a kit: its holder, or one of the supplier's people on behalf of the holder.

use crate::{Principal, Role};
use serde::Serialize;
use utoipa::ToSchema;

/// Who answered.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, ToSchema)]
pub struct Answered {
    /// `builder` for the holder of the kit, else `support` or `publisher`; absent when the token is not known any more.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub role: Option<String>,
    /// True when one of the supplier's people did so on behalf of the holder.
    pub on_behalf_of_holder: bool,
    /// Id of the token; only the supplier's people see it.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub token: Option<String>,
    /// What the owner of the token calls it; only the supplier's people see it, and it is absent when it has no name.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub name: Option<String>,
}

impl Answered {
    /// Who answered with this token, as `who` may know it; `None` while nobody has.
    pub(crate) fn of(
        who: &Principal,
        token: Option<String>,
        role: Option<String>,
        name: Option<String>,
    ) -> Option<Self> {
        let (token, own) = (token?, who.may_support().is_ok());
        Some(Self {
            on_behalf_of_holder: role.as_deref().is_some_and(|role| role != "builder"),
            role,
            token: own.then_some(token),
            name: name.filter(|name| own && !name.is_empty()),
        })
    }
}

/// The action as the audit log names it: what is done on behalf of a holder is told from what they did themselves.
pub(crate) fn action(who: &Principal, own: &'static str, for_holder: &'static str) -> &'static str {
    if matches!(who.role, Role::Builder { .. }) { own } else { for_holder }
}
