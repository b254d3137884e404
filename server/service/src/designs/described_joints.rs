//! Single joints described in a request, kept nowhere.

use crate::engine::Evaluated;
use crate::{Service, ServiceError};
use matchmark_core::pack::{Issue, Print, Status};
use matchmark_core::part::Numbers;
use matchmark_core::{JointRequest, OneJoint};
use std::sync::Arc;

impl Service {
    /// The wrap of a described joint.
    pub async fn joint_wrap(&self, request: JointRequest) -> Result<OneJoint, ServiceError> {
        self.engine.one_joint(request).await
    }

    /// The wrap of a described joint as SVG.
    pub async fn joint_svg(&self, request: JointRequest) -> Result<String, ServiceError> {
        let joint = self.joint_wrap(request).await?;
        let issue = self.joint_issue(&joint, Print::default());
        let evaluated = Evaluated { evaluation: joint.evaluation, numbers: Numbers::default() };
        self.engine.wrap_svg(Arc::new(evaluated), joint.wrap, issue).await
    }

    /// The wrap of a described joint as a page of PDF.
    pub async fn joint_pdf(&self, request: JointRequest, print: Print) -> Result<Vec<u8>, ServiceError> {
        let joint = self.joint_wrap(request).await?;
        let issue = self.joint_issue(&joint, print);
        let evaluated = Evaluated { evaluation: joint.evaluation, numbers: Numbers::default() };
        self.engine.wraps_pdf(Arc::new(evaluated), vec![joint.wrap], issue).await
    }

    fn joint_issue(&self, joint: &OneJoint, print: Print) -> Issue {
        Issue {
            design_sha256: joint.evaluation.sha256.clone().unwrap_or_default(),
            ..Issue::new(&self.supplier, &joint.evaluation.name, self.clock.stamp().date(), Status::Issued, print)
        }
    }
}
