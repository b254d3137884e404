//! Bearer tokens: shown once, kept as hashes.

use super::kits::readable_kit;
use super::{Principal, Role, Service, ServiceError};
use crate::hash::sha256_hex;
use crate::secret;
use crate::store::audit::{self, Act};
use crate::store::tokens::{self, TokenRow};
use crate::store::{Conn, StoreError};
use serde::{Deserialize, Serialize};
use utoipa::ToSchema;

/// A token for the supplier's own people.
#[derive(Debug, Clone, Deserialize, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
pub struct NewToken {
    /// What it is good for.
    pub role: SupplierRole,
}

/// What a token of the supplier's own people is good for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Deserialize, Serialize, ToSchema)]
#[serde(rename_all = "lowercase")]
pub enum SupplierRole {
    /// Everything.
    Publisher,
    /// Reads everything, issues packs and hands out builder tokens.
    Support,
}

/// A new token. It is shown in this answer and never again.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct TokenView {
    /// The token, to be sent as `Authorization: Bearer ...`.
    pub token: String,
    /// `publisher`, `support` or `builder`.
    pub role: &'static str,
    /// The one kit of a builder.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub kit: Option<String>,
}

impl Service {
    /// Who shows this token; `None` when nobody was given it.
    pub async fn principal(&self, token: &str) -> Result<Option<Principal>, ServiceError> {
        let mut read = self.store.read().await?;
        let Some(row) = tokens::find(&mut read, &sha256_hex(token)).await? else {
            return Ok(None);
        };
        let role = match (row.role.as_str(), row.kit) {
            ("publisher", None) => Role::Publisher,
            ("support", None) => Role::Support,
            ("builder", Some(kit)) => Role::Builder { kit },
            (role, _) => {
                return Err(ServiceError::Store(StoreError::Inconsistent {
                    table: "tokens",
                    column: "role",
                    value: role.to_owned(),
                }));
            }
        };
        Ok(Some(Principal { token: row.id, role }))
    }

    /// The first publisher's token of a fresh service; `None` when there are tokens already.
    pub async fn first_token(&self) -> Result<Option<TokenView>, ServiceError> {
        let mut write = self.store.write().await?;
        if tokens::any(&mut write).await? {
            return Ok(None);
        }
        let view = self.mint(&mut write, "system", Role::Publisher).await?;
        write.commit().await?;
        Ok(Some(view))
    }

    /// A token for one of the supplier's own people.
    pub async fn supplier_token(&self, who: &Principal, new: &NewToken) -> Result<TokenView, ServiceError> {
        who.may_publish()?;
        let role = match new.role {
            SupplierRole::Publisher => Role::Publisher,
            SupplierRole::Support => Role::Support,
        };
        let mut write = self.store.write().await?;
        let view = self.mint(&mut write, &who.token, role).await?;
        write.commit().await?;
        Ok(view)
    }

    /// A token for the builder of one kit.
    pub async fn builder_token(&self, who: &Principal, serial: &str) -> Result<TokenView, ServiceError> {
        who.may_support()?;
        let mut write = self.store.write().await?;
        let kit = readable_kit(&mut write, who, serial).await?.serial;
        let view = self.mint(&mut write, &who.token, Role::Builder { kit }).await?;
        write.commit().await?;
        Ok(view)
    }

    async fn mint(&self, conn: &mut Conn, actor: &str, role: Role) -> Result<TokenView, ServiceError> {
        let (prefix, role, kit) = match role {
            Role::Publisher => ("mmp_", "publisher", None),
            Role::Support => ("mms_", "support", None),
            Role::Builder { kit } => ("mmb_", "builder", Some(kit)),
        };
        let token = secret::token(prefix);
        let stamp = self.clock.stamp();
        let row = TokenRow {
            id: secret::id(),
            sha256: sha256_hex(&token),
            role: role.to_owned(),
            kit: kit.clone(),
            created_at: stamp.at().to_owned(),
        };
        tokens::insert(conn, &row).await?;
        let act = Act { at: stamp.at(), actor, action: "create-token", subject: &format!("tokens/{}", row.id) };
        audit::append(conn, act).await?;
        Ok(TokenView { token, role, kit })
    }
}
