//! The desk: the job file with what was worked out from it, kept up to date as events come.

use std::sync::Arc;

use store::{Device, Job, JobId, StoreError};
use tally::{Digest, Draft, Event, EventId, Known, Standing, What};

use tokio::sync::watch;

use crate::bundle;
use crate::code::JoinCode;

/// A job with how it stands. Whoever holds it is the only one to write in this process.
#[derive(Debug)]
pub struct Desk {
    job: Job,
    events: Vec<Event>,
    upto: i64,
    known: Known,
    standing: Arc<Standing>,
    /// The highest number in the log, for whoever listens.
    highest: watch::Sender<u64>,
}

/// What can go wrong at the desk.
#[derive(Debug, thiserror::Error)]
pub enum DeskError {
    /// The job file.
    #[error(transparent)]
    Store(#[from] StoreError),
    /// The system's random source.
    #[error("the system gives no random numbers: {0}")]
    Random(#[from] getrandom::Error),
}

impl Desk {
    /// Takes up a job.
    pub fn take_up(job: Job) -> Result<Self, DeskError> {
        let mut known = Known::default();
        let standing = Arc::new(Standing::of(&[], |_| Err("no list".into()), &mut known));
        let mut desk = Self {
            job,
            events: Vec::new(),
            upto: 0,
            known,
            standing,
            highest: watch::Sender::new(0),
        };
        desk.catch_up()?;
        Ok(desk)
    }

    /// How the job stands now, with what other processes wrote too.
    pub fn standing(&mut self) -> Result<Arc<Standing>, DeskError> {
        self.catch_up()?;
        Ok(self.standing.clone())
    }

    /// How the job stood when an event of this id was first decided; as it stands now, when there is none yet.
    ///
    /// What a form leads to may follow from how things stand (a count anew names the counts that it replaces), so a
    /// form that is sent twice is decided the same way twice.
    pub fn standing_before(&mut self, id: EventId) -> Result<Arc<Standing>, DeskError> {
        self.catch_up()?;
        let Some(known) = self.events.iter().position(|event| event.id == id) else {
            return Ok(self.standing.clone());
        };
        let before = &self.events[..known];
        let document = |digest: &Digest| document(&self.job, digest);
        Ok(Arc::new(Standing::of(before, document, &mut self.known)))
    }

    /// Whether a mark is a part of the order, or was counted as one.
    pub fn has_mark(&mut self, mark: &str) -> Result<bool, DeskError> {
        // A count need not wait for the others' counts to be worked out, when the mark is known already.
        if has_mark(&self.standing, mark) {
            return Ok(true);
        }
        self.catch_up()?;
        Ok(has_mark(&self.standing, mark))
    }

    /// Appends what a device's holder saw. When this returns it is on disk; a retry under the same id adds nothing.
    pub fn append(
        &mut self,
        id: EventId,
        device: &str,
        who: &str,
        what: What,
    ) -> Result<Event, DeskError> {
        self.append_seen(Draft {
            id,
            device: device.into(),
            at: store::now(),
            who: who.into(),
            what,
        })
    }

    /// The same of what was seen at another time than now, as by a phone out of reach.
    pub(crate) fn append_seen(&mut self, draft: Draft) -> Result<Event, DeskError> {
        let event = self.job.append(draft)?;
        self.tell(event.seq);
        Ok(event)
    }

    /// Tells whoever listens how far the log has come.
    fn tell(&self, seq: u64) {
        self.highest.send_if_modified(|highest| {
            let further = seq > *highest;
            *highest = seq.max(*highest);
            further
        });
    }

    /// Hears of each event that this process writes or comes upon.
    pub(crate) fn listen(&self) -> watch::Receiver<u64> {
        self.highest.subscribe()
    }

    /// How far this copy of the log was read: a row, which grows with each event that comes into it.
    pub(crate) fn upto(&self) -> i64 {
        self.upto
    }

    /// Which job this is.
    pub(crate) fn job_id(&self) -> JobId {
        self.job.id()
    }

    /// Keeps a document; when this returns it is on disk.
    pub fn put_document(&mut self, bytes: &[u8]) -> Result<Digest, DeskError> {
        Ok(self.job.put_document(bytes)?)
    }

    /// Keeps a picture as it came, and its small copy beside it.
    pub(crate) fn put_photo(
        &mut self,
        bytes: &[u8],
        small: Option<&[u8]>,
    ) -> Result<Digest, DeskError> {
        Ok(match small {
            Some(small) => self.job.put_photo(bytes, small)?,
            None => self.job.put_document(bytes)?,
        })
    }

    /// Keeps the small copy of a picture; it can be made anew, so it belongs to this copy of the job alone.
    pub(crate) fn keep_small_picture(
        &mut self,
        digest: &Digest,
        small: &[u8],
    ) -> Result<(), DeskError> {
        Ok(self.job.put_thumbnail(digest, small)?)
    }

    /// A picture as it came.
    pub(crate) fn picture(&self, digest: &Digest) -> Result<Option<Vec<u8>>, DeskError> {
        Ok(self.job.document(digest)?)
    }

    /// The small copy of a picture, where there is one.
    pub(crate) fn small_picture(&self, digest: &Digest) -> Result<Option<Vec<u8>>, DeskError> {
        Ok(self.job.thumbnail(digest)?)
    }

    /// Whether the job can only be read.
    pub fn is_for_reading(&self) -> bool {
        self.job.is_for_reading()
    }

    /// The same job once more, for long work that is not to keep the desk waiting.
    pub(crate) fn beside(&self) -> Result<Job, DeskError> {
        Ok(self.job.beside()?)
    }

    /// About how many bytes a bundle of the job takes.
    pub(crate) fn about_bundle(&self) -> Result<u64, DeskError> {
        Ok(bundle::about(&self.job.documents()?))
    }

    /// The head of the log's chain, which a paper pins.
    pub(crate) fn head(&self) -> Result<Digest, DeskError> {
        Ok(self.job.head()?)
    }

    /// The name under which this computer itself writes.
    pub fn writer(&self) -> Result<String, DeskError> {
        Ok(self.job.writer()?)
    }

    /// The job's join code; made on first use.
    pub fn join_code(&mut self) -> Result<JoinCode, DeskError> {
        if let Some(code) = self.job.join_code()? {
            return Ok(JoinCode::typed(&code));
        }
        let code = JoinCode::fresh()?;
        self.job.set_join_code(code.letters())?;
        Ok(code)
    }

    /// Makes a new join code; who has joined stays in.
    pub(crate) fn change_join_code(&mut self) -> Result<(), DeskError> {
        let code = JoinCode::fresh()?;
        Ok(self.job.set_join_code(code.letters())?)
    }

    /// Lets a device in under a name and returns the secret that it is to show.
    pub(crate) fn let_in(&mut self, name: &str) -> Result<String, DeskError> {
        let secret = crate::code::fresh_secret()?;
        let device = Device {
            id: store::fresh_id().to_string(),
            token: Digest::of(secret.as_bytes()).0,
            name: name.into(),
            revoked: false,
        };
        self.job.add_device(&device)?;
        Ok(secret)
    }

    /// The device that shows a secret, shut out or not.
    pub(crate) fn device(&self, secret: &str) -> Result<Option<Device>, DeskError> {
        Ok(self.job.device_by_token(&Digest::of(secret.as_bytes()).0)?)
    }

    /// All devices.
    pub(crate) fn devices(&self) -> Result<Vec<Device>, DeskError> {
        Ok(self.job.devices()?)
    }

    /// Hands a device on to someone of another name; returns whether there is such a device.
    pub(crate) fn rename(&mut self, device: &str, name: &str) -> Result<bool, DeskError> {
        Ok(self.job.rename_device(device, name)?)
    }

    /// Shuts a device out, or lets it in again; returns whether there is such a device.
    pub(crate) fn shut_out(&mut self, device: &str, out: bool) -> Result<bool, DeskError> {
        Ok(self.job.revoke_device(device, out)?)
    }

    /// Every event so far, in the order in which this copy came to know of them.
    pub(crate) fn log(&mut self) -> Result<&[Event], DeskError> {
        self.catch_up()?;
        Ok(&self.events)
    }

    fn catch_up(&mut self) -> Result<(), DeskError> {
        let log = self.job.events_since(self.upto)?;
        self.upto = log.upto;
        if log.events.is_empty() {
            return Ok(());
        }
        self.events.extend(log.events);
        let document = |digest: &Digest| document(&self.job, digest);
        self.standing = Arc::new(Standing::of(&self.events, document, &mut self.known));
        self.tell(self.standing.state.upto);
        Ok(())
    }
}

/// The bytes of a document of a job, or in words why there are none.
pub fn document(job: &Job, digest: &Digest) -> Result<Vec<u8>, String> {
    match job.document(digest) {
        Ok(Some(bytes)) => Ok(bytes),
        Ok(None) => Err("its file is not in this copy of the job".into()),
        Err(e) => Err(e.to_string()),
    }
}

/// Whether a mark is a part of the order, or was counted as one.
pub(crate) fn has_mark(standing: &Standing, mark: &str) -> bool {
    let ordered = standing.ordered();
    ordered.is_some_and(|ordered| ordered.parts.line(mark).is_some())
        || standing.state.marks.contains_key(mark)
}
