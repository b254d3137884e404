//! The demo: an invented supplier with one design, two revisions and four kits, made through the use cases like anything else.

use crate::{
    ChangeClass, Customer, DraftCondition, IdempotentCall, NewDesign, NewKit, NewPack, NewToken, Principal, Publish,
    Role, Service, ServiceError, SupplierRole,
};
use std::collections::{BTreeMap, BTreeSet};

const REVISION_A: &str = include_str!("../../../demo/rev_a.json");
const REVISION_B: &str = include_str!("../../../demo/rev_b.json");

const KITS_ON_A: [(&str, &str, &str); 2] =
    [("QF-0101", "Ines Halvard", "ines@example.com"), ("QF-0102", "Tobin Marsh", "tobin@example.org")];
const KITS_ON_B: [(&str, &str, &str); 2] =
    [("QF-0107", "Sunniva Okafor", "sunniva@example.com"), ("QF-0108", "Lorcan Petrie", "lorcan@example.org")];

/// What the demo's visitor needs to know.
pub struct Demo {
    /// Token of a publisher.
    pub publisher: String,
    /// Token of a support agent.
    pub support: String,
    /// The builders, on revision A first.
    pub builders: Vec<DemoBuilder>,
}

/// A builder of the demo.
pub struct DemoBuilder {
    /// Serial of their kit.
    pub serial: String,
    /// Revision that the kit was sold with.
    pub revision: String,
    /// Their token.
    pub token: String,
}

impl Demo {
    /// The invented supplier.
    pub const SUPPLIER: &str = "Quillmoor Frameworks";
    /// Whom its customers are to ask.
    pub const CONTACT: &str = "kits@mail.example\nTelephone 01632 960 017, 9 to 17 h";
    /// Id of the invented design.
    pub const DESIGN: &str = "fenrunner-two";
}

impl Service {
    /// Fills a fresh service with the demo.
    pub async fn load_demo(&self) -> Result<Demo, ServiceError> {
        let Some(first) = self.first_token().await? else {
            return Err(ServiceError::Inconsistent("the demo needs a data directory that was never used"));
        };
        let who = Principal { token: "demo".to_owned(), role: Role::Publisher, read_only: false };
        let once = || IdempotentCall::new(&who.token, String::new(), None, &[]);
        let design = NewDesign { id: Demo::DESIGN.to_owned(), name: "Fenrunner Two".to_owned() };
        self.create_design(&who, design, &once()).await?;
        let mut builders = Vec::new();
        let revisions = [
            (REVISION_A, "First issue.", KITS_ON_A),
            (
                REVISION_B,
                "Some parts changed after the first frames were built; see the notes of the design.",
                KITS_ON_B,
            ),
        ];
        for (document, note, kits) in revisions {
            let letter = self.publish_demo(&who, document, note).await?;
            for (serial, name, email) in kits {
                let kit = NewKit {
                    serial: serial.to_owned(),
                    design: Demo::DESIGN.to_owned(),
                    revision: letter.clone(),
                    choices: BTreeMap::new(),
                    order_number: String::new(),
                    customer: Customer { name: name.to_owned(), email: email.to_owned() },
                };
                self.create_kit(&who, kit, &once()).await?;
                self.issue_pack(&who, serial, &NewPack::default(), &once()).await?;
                builders.push(DemoBuilder {
                    serial: serial.to_owned(),
                    revision: letter.clone(),
                    token: self.builder_token(&who, serial, &once()).await?.token,
                });
            }
        }
        let support = NewToken::new(SupplierRole::Support);
        Ok(Demo {
            publisher: first.token,
            support: self.supplier_token(&who, &support, &once()).await?.token,
            builders,
        })
    }

    /// Publishes a document of the demo, whose warnings are as meant, and returns its letter.
    async fn publish_demo(&self, who: &Principal, document: &str, note: &str) -> Result<String, ServiceError> {
        let before = match self.draft(who, Demo::DESIGN).await {
            Ok(draft) => Some(vec![draft.sha256]),
            Err(ServiceError::NoDraft(_)) => None,
            Err(error) => return Err(error),
        };
        let class = before.is_some().then_some(ChangeClass::Recommended);
        let condition = DraftCondition { if_absent: before.is_none(), if_match: before };
        let draft = self.put_draft(who, Demo::DESIGN, document.to_owned(), &condition).await?;
        let findings = self.findings(who, Demo::DESIGN, true).await?.findings;
        let acknowledge: BTreeSet<String> = findings.into_iter().map(|finding| finding.code).collect();
        let condition = DraftCondition { if_match: Some(vec![draft.sha256]), if_absent: false };
        let publish = Publish { change_note: note.to_owned(), class, acknowledge, supersedes: None };
        let once = IdempotentCall::new(&who.token, String::new(), None, &[]);
        let created = self.publish(who, Demo::DESIGN, publish, &condition, &once).await?;
        Ok(created.letter)
    }
}
