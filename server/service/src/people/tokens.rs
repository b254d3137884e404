//! Bearer tokens: shown once, kept as hashes.

use crate::rules::lookup::readable_kit;
use crate::rules::shown_once::Made;
use crate::rules::valid::Checks;
use crate::words::of_problems;
use crate::{FieldError, IdempotentCall, Listed, Page, Principal, Role, Service, ServiceError};
use matchmark_store::audit::{self, Act};
use matchmark_store::clock::Stamp;
use matchmark_store::hash::sha256_hex;
use matchmark_store::tokens::{self, TokenRow};
use matchmark_store::{Conn, StoreError, secret};
use serde::{Deserialize, Serialize};
use time::Duration;
use utoipa::ToSchema;

/// A token for the supplier's own people.
#[derive(Debug, Clone, Deserialize, Serialize, ToSchema)]
#[serde(deny_unknown_fields)]
#[schema(example = json!({"role": "support", "name": "Bench tablet", "expires_in_days": 90}))]
pub struct NewToken {
    /// What it is good for.
    pub role: SupplierRole,
    /// What its owner calls it.
    #[serde(default)]
    pub name: String,
    /// After how many days it ends, 1 to 3650; never when absent.
    #[serde(default)]
    pub expires_in_days: Option<i64>,
    /// True for one that reads what its role reads, has things computed, and changes nothing.
    #[serde(default)]
    pub read_only: bool,
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

/// A new token. It is shown in this answer, and again only to a repeat of the call with the same Idempotency-Key.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct TokenView {
    /// The token, to be sent as `Authorization: Bearer ...`.
    pub token: String,
    /// Its id, which grants nothing.
    pub id: String,
    /// `publisher`, `support` or `builder`.
    pub role: String,
    /// The one kit of a builder.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub kit: Option<String>,
    /// When it ends, RFC 3339 in UTC; never when absent.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub expires_at: Option<String>,
}

/// A token without what it shows.
#[derive(Debug, Clone, Serialize, ToSchema)]
pub struct TokenFacts {
    /// Its id, which grants nothing.
    pub id: String,
    /// `publisher`, `support` or `builder`.
    pub role: String,
    /// The one kit of a builder.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub kit: Option<String>,
    /// Whether it only reads.
    pub read_only: bool,
    /// What its owner calls it.
    pub name: String,
    /// `token`, or `access-code` when it was got by signing in.
    pub via: String,
    /// When it was made, RFC 3339 in UTC.
    pub created_at: String,
    /// When it ends; never when absent.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub expires_at: Option<String>,
    /// When it was ended before that.
    #[serde(skip_serializing_if = "Option::is_none")]
    pub revoked_at: Option<String>,
}

impl NewToken {
    /// One for this role that may do all that the role may, for ever.
    pub fn new(role: SupplierRole) -> Self {
        Self { role, name: String::new(), expires_in_days: None, read_only: false }
    }

    fn checked(&self) -> Result<(Role, Terms), ServiceError> {
        let role = match self.role {
            SupplierRole::Publisher => Role::Publisher,
            SupplierRole::Support => Role::Support,
        };
        let mut checks = Checks::default();
        if !self.name.is_empty() {
            checks.line("/name", &self.name);
        }
        if self.expires_in_days.is_some_and(|days| !(1..=3650).contains(&days)) {
            checks.refuse("/expires_in_days", of_problems().fields.token_lasts().to_owned());
        }
        checks.done()?;
        let lasts = self.expires_in_days.map(Duration::days);
        Ok((role, Terms { name: self.name.clone(), lasts, read_only: self.read_only, ..Terms::default() }))
    }
}

impl From<TokenRow> for TokenFacts {
    fn from(row: TokenRow) -> Self {
        Self {
            id: row.id,
            role: row.role,
            kit: row.kit,
            read_only: row.read_only != 0,
            name: row.name,
            via: row.via,
            created_at: row.created_at,
            expires_at: row.expires_at,
            revoked_at: row.revoked_at,
        }
    }
}

impl Service {
    /// Who shows this token; `None` when nobody was given it.
    pub async fn principal(&self, token: &str) -> Result<Option<Principal>, ServiceError> {
        let mut read = self.store.read().await?;
        let Some(row) = tokens::find(&mut read, &sha256_hex(token)).await? else {
            return Ok(None);
        };
        bearer(row, self.clock.stamp().at())
    }

    /// The first publisher's token of a fresh service; `None` when there are tokens already.
    pub async fn first_token(&self) -> Result<Option<TokenView>, ServiceError> {
        if tokens::any(&mut self.store.read().await?).await? {
            // No reason to wait for those that write.
            return Ok(None);
        }
        let mut write = self.store.write().await?;
        if tokens::any(&mut write).await? {
            return Ok(None);
        }
        let view = self.mint(&mut write, "system", Role::Publisher, &Terms::default()).await?;
        write.commit().await?;
        Ok(Some(view))
    }

    /// A token for one of the supplier's own people.
    pub async fn supplier_token(
        &self,
        who: &Principal,
        new: &NewToken,
        once: &IdempotentCall,
    ) -> Result<TokenView, ServiceError> {
        who.may_publish()?;
        let (role, terms) = new.checked()?;
        let mut write = self.store.write().await?;
        if let Some(view) = self.minted_before(&mut write, once).await? {
            return Ok(view);
        }
        let follows = Some(tokens::person(&mut write, &who.token).await?);
        let view = self.mint_once(&mut write, who, role, &Terms { follows, ..terms }, once).await?;
        write.commit().await?;
        Ok(view)
    }

    /// The same for whoever has the machine in hand. Each name stands for a person of its own.
    pub async fn token_on_the_machine(&self, new: &NewToken) -> Result<TokenView, ServiceError> {
        let (role, terms) = new.checked()?;
        if terms.name.trim().is_empty() {
            return Err(ServiceError::Invalid(vec![FieldError {
                pointer: "/name".to_owned(),
                detail: of_problems().fields.token_owner().to_owned(),
            }]));
        }
        let mut write = self.store.write().await?;
        let follows = tokens::person_of_name(&mut write, terms.name.trim()).await?;
        let view = self.mint(&mut write, "system", role, &Terms { follows, ..terms }).await?;
        write.commit().await?;
        Ok(view)
    }

    /// A token for the builder of one kit.
    pub async fn builder_token(
        &self,
        who: &Principal,
        serial: &str,
        once: &IdempotentCall,
    ) -> Result<TokenView, ServiceError> {
        who.may_support()?;
        let mut write = self.store.write().await?;
        let kit = readable_kit(&mut write, who, serial).await?.serial;
        if let Some(view) = self.minted_before(&mut write, once).await? {
            return Ok(view);
        }
        let view = self.mint_once(&mut write, who, Role::Builder { kit }, &Terms::default(), once).await?;
        write.commit().await?;
        Ok(view)
    }

    /// A page of all tokens, in order of their id.
    pub async fn tokens(&self, who: &Principal, page: &Page) -> Result<Listed<TokenFacts>, ServiceError> {
        who.may_publish()?;
        let mut read = self.store.read().await?;
        let limit = i64::try_from(page.limit + 1).unwrap_or(i64::MAX);
        let rows = tokens::list(&mut read, &page.after, limit).await?;
        let facts = rows.into_iter().map(TokenFacts::from).collect();
        Ok(Listed::cut(facts, page.limit, |facts: &TokenFacts| facts.id.clone()))
    }

    /// Ends a token: a publisher any, everyone their own.
    pub async fn revoke_token(&self, who: &Principal, id: &str) -> Result<(), ServiceError> {
        let stamp = self.clock.stamp();
        let mut write = self.store.write().await?;
        let row = own_token(&mut write, who, id).await?;
        if row.revoked_at.is_some() {
            return Ok(());
        }
        tokens::revoke(&mut write, id, stamp.at()).await?;
        if row.role == "publisher" && row.read_only == 0 && tokens::publishers(&mut write, stamp.at()).await? == 0 {
            return Err(ServiceError::LastPublisher);
        }
        let subject = format!("tokens/{id}");
        let act = Act { at: stamp.at(), actor: &who.token, action: "revoke-token", subject: &subject };
        audit::append(&mut write, act).await?;
        Ok(write.commit().await?)
    }

    /// Ends a token and gives a new one for the same: a publisher any, everyone their own. It lasts as long as the old one did
    /// from its start; one that was got by signing in ends when the old one would have.
    pub async fn rotate_token(
        &self,
        who: &Principal,
        id: &str,
        once: &IdempotentCall,
    ) -> Result<TokenView, ServiceError> {
        let stamp = self.clock.stamp();
        let mut write = self.store.write().await?;
        let row = own_token(&mut write, who, id).await?;
        if let Some(view) = self.minted_before(&mut write, once).await? {
            return Ok(view);
        }
        if has_ended(&row, stamp.at()) {
            return Err(ServiceError::TokenEnded);
        }
        let role = role(&row)?;
        let via_code = row.via == VIA_CODE;
        let lasts = row.expires_at.as_deref().map(|end| Stamp::said(end).since(&row.created_at));
        let follows = Some(tokens::person(&mut write, &who.token).await?);
        let (ends_at, read_only) = (row.expires_at.filter(|_| via_code), row.read_only != 0);
        let terms = Terms { name: row.name, via_code, lasts, ends_at, follows, read_only };
        tokens::revoke(&mut write, id, stamp.at()).await?;
        let view = self.mint_once(&mut write, who, role, &terms, once).await?;
        write.commit().await?;
        Ok(view)
    }

    /// The token that an earlier call with the same key made, for as long as it is good.
    async fn minted_before(&self, conn: &mut Conn, once: &IdempotentCall) -> Result<Option<TokenView>, ServiceError> {
        let Some(made) = once.answered::<Made>(conn).await? else { return Ok(None) };
        let row = tokens::by_id(conn, &made.id).await?.ok_or(ServiceError::Hidden)?;
        let token = secret::token_of(prefix(&role(&row)?), &self.made_secret(once, &made));
        if row.sha256 != sha256_hex(&token) || has_ended(&row, self.clock.stamp().at()) {
            return Err(ServiceError::TokenNotShownAgain);
        }
        Ok(Some(TokenView { token, id: row.id, role: row.role, kit: row.kit, expires_at: row.expires_at }))
    }

    /// Makes a token and records what makes it again for a repeat of the call.
    async fn mint_once(
        &self,
        conn: &mut Conn,
        who: &Principal,
        role: Role,
        terms: &Terms,
        once: &IdempotentCall,
    ) -> Result<TokenView, ServiceError> {
        let made = Made::now(secret::id());
        once.record(conn, &made, self.clock.stamp().at()).await?;
        let bits = self.made_secret(once, &made);
        self.put(conn, &who.token, role, terms, made.id, &bits).await
    }

    /// Makes a token and puts it on record.
    pub(crate) async fn mint(
        &self,
        conn: &mut Conn,
        actor: &str,
        role: Role,
        terms: &Terms,
    ) -> Result<TokenView, ServiceError> {
        self.put(conn, actor, role, terms, secret::id(), &secret::key()).await
    }

    async fn put(
        &self,
        conn: &mut Conn,
        actor: &str,
        role: Role,
        terms: &Terms,
        id: String,
        bits: &[u8; 32],
    ) -> Result<TokenView, ServiceError> {
        let token = secret::token_of(prefix(&role), bits);
        let (role, kit) = match role {
            Role::Publisher => ("publisher", None),
            Role::Support => ("support", None),
            Role::Builder { kit } => ("builder", Some(kit)),
        };
        let stamp = self.clock.stamp();
        let row = TokenRow {
            id,
            sha256: sha256_hex(&token),
            role: role.to_owned(),
            kit,
            name: terms.name.clone(),
            via: if terms.via_code { VIA_CODE } else { "token" }.to_owned(),
            created_at: stamp.at().to_owned(),
            expires_at: terms
                .ends_at
                .clone()
                .or_else(|| terms.lasts.map(|lasts| self.clock.stamp_in(lasts).at().to_owned())),
            revoked_at: None,
            follows: terms.follows.clone(),
            read_only: i64::from(terms.read_only),
        };
        tokens::insert(conn, &row).await?;
        let act = Act { at: stamp.at(), actor, action: "create-token", subject: &format!("tokens/{}", row.id) };
        audit::append(conn, act).await?;
        Ok(TokenView { token, id: row.id, role: row.role, kit: row.kit, expires_at: row.expires_at })
    }
}

const VIA_CODE: &str = "access-code";

/// On what terms a token is given.
#[derive(Debug, Default)]
pub(crate) struct Terms {
    /// What its owner calls it.
    pub name: String,
    /// True when it was got by an access code.
    pub via_code: bool,
    /// How long it lasts; for ever when absent.
    pub lasts: Option<Duration>,
    /// When it ends, whatever it lasts.
    pub ends_at: Option<String>,
    /// The token that it goes back to, when it was not made on the machine.
    pub follows: Option<String>,
    /// Whether it only reads.
    pub read_only: bool,
}

/// Who bears a token; `None` when it has ended.
pub(crate) fn bearer(row: TokenRow, now: &str) -> Result<Option<Principal>, ServiceError> {
    if has_ended(&row, now) {
        return Ok(None);
    }
    let role = role(&row)?;
    Ok(Some(Principal { token: row.id, role, read_only: row.read_only != 0 }))
}

fn has_ended(row: &TokenRow, now: &str) -> bool {
    row.revoked_at.is_some() || row.expires_at.as_deref().is_some_and(|end| end <= now)
}

/// What a token begins with, so that people see what it is.
fn prefix(role: &Role) -> &'static str {
    match role {
        Role::Publisher => "mmp_",
        Role::Support => "mms_",
        Role::Builder { .. } => "mmb_",
    }
}

/// A token that this caller may end.
async fn own_token(conn: &mut Conn, who: &Principal, id: &str) -> Result<TokenRow, ServiceError> {
    if (who.role != Role::Publisher || who.read_only) && who.token != id {
        return Err(ServiceError::Hidden);
    }
    tokens::by_id(conn, id).await?.ok_or(ServiceError::Hidden)
}

fn role(row: &TokenRow) -> Result<Role, ServiceError> {
    match (row.role.as_str(), &row.kit) {
        ("publisher", None) => Ok(Role::Publisher),
        ("support", None) => Ok(Role::Support),
        ("builder", Some(kit)) => Ok(Role::Builder { kit: kit.clone() }),
        (role, _) => Err(ServiceError::Store(StoreError::Inconsistent {
            table: "tokens",
            column: "role",
            value: role.to_owned(),
        })),
    }
}
