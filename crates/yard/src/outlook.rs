//! What follows for the build from how a job stands: worked out once for a state of the log and a day, for all who ask.

use std::sync::{Arc, Mutex, OnceLock, PoisonError};

use claim::Date;
use ready::ways::Stock;
use ready::{Help, Readiness};
use tally::Standing;

/// Whether the build can start, and what would help.
#[derive(Debug)]
pub(crate) struct Outlook {
    standing: Arc<Standing>,
    /// The day at the site.
    pub today: Date,
    /// How far the build gets; nothing without an order that can be used.
    pub readiness: Option<Readiness>,
    /// What would help is asked for less often, and takes longer.
    help: OnceLock<Option<Help>>,
}

impl Outlook {
    fn of(standing: Arc<Standing>, today: Date) -> Self {
        let readiness = Readiness::of(&standing, today);
        Self {
            standing,
            today,
            readiness,
            help: OnceLock::new(),
        }
    }

    /// Ways round what is short; nothing without an order.
    pub fn help(&self) -> Option<&Help> {
        self.help
            .get_or_init(|| {
                let readiness = self.readiness.as_ref()?;
                help(&self.standing, readiness, self.today)
            })
            .as_ref()
    }
}

/// What would help a job: for the day that was called, else the earliest that was planned.
pub fn help(standing: &Standing, readiness: &Readiness, today: Date) -> Option<Help> {
    ready::what_would_help(standing, readiness, Stock::shipped(), today)
}

/// The last outlook that was worked out.
#[derive(Clone, Debug, Default)]
pub(crate) struct OutlookKept(Arc<Mutex<Option<Arc<Outlook>>>>);

impl OutlookKept {
    /// The outlook of a standing on a day. Whoever asks for the same meanwhile waits for it.
    pub fn of(&self, standing: &Arc<Standing>, today: Date) -> Arc<Outlook> {
        let mut kept = self.0.lock().unwrap_or_else(PoisonError::into_inner);
        match &*kept {
            Some(known) if Arc::ptr_eq(&known.standing, standing) && known.today == today => {
                known.clone()
            }
            _ => kept
                .insert(Arc::new(Outlook::of(standing.clone(), today)))
                .clone(),
        }
    }
}
