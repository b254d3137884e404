//! Objects in a bucket of an S3-compatible store.

use super::{Group, OWNER, StoreError};
use crate::Secret;
use futures_util::TryStreamExt;
use object_store::aws::{AmazonS3, AmazonS3Builder};
use object_store::path::Path;
use object_store::{ClientOptions, Error, ObjectStore, ObjectStoreExt, PutMode, RetryConfig};
use std::sync::Arc;
use std::time::Duration;

/// A bucket and the key to it.
#[derive(Debug, Clone)]
pub struct Bucket {
    /// Name of the bucket.
    pub name: String,
    /// Address of the store.
    pub endpoint: String,
    /// Region.
    pub region: String,
    /// Id of the access key.
    pub key_id: String,
    /// Its secret.
    pub secret: Secret,
}

/// A bucket that is open.
#[derive(Debug, Clone)]
pub struct BucketObjects(Arc<AmazonS3>);

/// How often and how long a call is repeated before the caller hears of it.
const RETRIES: usize = 4;
const PATIENCE: Duration = Duration::from_secs(20);

/// What is written to see whether anything can be.
const PROBE: &str = "probe";

impl BucketObjects {
    /// Makes ready to use a bucket; nothing is asked of it yet.
    pub fn open(bucket: &Bucket) -> Result<Self, StoreError> {
        // One process, one choice; a second call finds it made.
        let _ = rustls::crypto::ring::default_provider().install_default();
        let client = ClientOptions::new().with_connect_timeout(Duration::from_secs(5)).with_timeout(PATIENCE);
        let retry = RetryConfig { max_retries: RETRIES, retry_timeout: PATIENCE, ..RetryConfig::default() };
        let store = AmazonS3Builder::new()
            .with_bucket_name(&bucket.name)
            .with_endpoint(&bucket.endpoint)
            .with_region(&bucket.region)
            .with_access_key_id(&bucket.key_id)
            .with_secret_access_key(bucket.secret.reveal())
            .with_client_options(client)
            .with_retry(retry)
            // Settings let http through for this machine only.
            .with_allow_http(true)
            .build()?;
        Ok(Self(Arc::new(store)))
    }

    pub async fn put(&self, group: Group, name: &str, bytes: Vec<u8>) -> Result<(), StoreError> {
        self.0.put(&path(group, name), bytes.into()).await?;
        Ok(())
    }

    pub async fn get(&self, group: Group, name: &str) -> Result<Option<Vec<u8>>, StoreError> {
        self.read(&path(group, name)).await
    }

    async fn read(&self, path: &Path) -> Result<Option<Vec<u8>>, StoreError> {
        match self.0.get(path).await {
            Ok(found) => Ok(Some(found.bytes().await?.into())),
            Err(Error::NotFound { .. }) => Ok(None),
            Err(error) => Err(error.into()),
        }
    }

    async fn delete(&self, path: &Path) -> Result<(), StoreError> {
        match self.0.delete(path).await {
            Ok(()) | Err(Error::NotFound { .. }) => Ok(()),
            Err(error) => Err(error.into()),
        }
    }

    pub async fn has(&self, group: Group, name: &str) -> Result<bool, StoreError> {
        match self.0.head(&path(group, name)).await {
            Ok(_) => Ok(true),
            Err(Error::NotFound { .. }) => Ok(false),
            Err(error) => Err(error.into()),
        }
    }

    pub async fn remove(&self, group: Group, name: &str) -> Result<(), StoreError> {
        self.delete(&path(group, name)).await
    }

    pub async fn is_empty(&self, group: Group) -> Result<bool, StoreError> {
        let mut listed = self.0.list(Some(&Path::from(group.name())));
        Ok(listed.try_next().await?.is_none())
    }

    pub async fn owner(&self) -> Result<Option<Vec<u8>>, StoreError> {
        self.read(&Path::from(OWNER)).await
    }

    pub async fn claim(&self, name: Vec<u8>) -> Result<(), StoreError> {
        match self.0.put_opts(&Path::from(OWNER), name.into(), PutMode::Create.into()).await {
            Ok(_) | Err(Error::AlreadyExists { .. }) => Ok(()),
            Err(error) => Err(error.into()),
        }
    }

    pub async fn disown(&self) -> Result<(), StoreError> {
        self.delete(&Path::from(OWNER)).await
    }

    pub async fn names(&self, group: Group) -> Result<Vec<String>, StoreError> {
        let listed = self.0.list_with_delimiter(Some(&Path::from(group.name()))).await?;
        Ok(listed.objects.iter().filter_map(|object| object.location.filename().map(str::to_owned)).collect())
    }

    pub async fn ready(&self) -> Result<(), StoreError> {
        self.0.put(&Path::from(PROBE), b"ready".as_slice().into()).await?;
        Ok(())
    }
}

fn path(group: Group, name: &str) -> Path {
    Path::from_iter([group.name(), name])
}
