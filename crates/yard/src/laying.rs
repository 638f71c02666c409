//! Where everything lies, kept until the ground, the order or a pile put by hand changes: a plan takes its time.

use std::collections::BTreeMap;
use std::sync::Arc;

use ready::Build;
use ready::ground::{GroundTrouble, Laydown, Pile, Site};
use tally::{Ground, Ordered, PileSpot, Standing};
use tokio::sync::Mutex;

use crate::reply::Failure;

pub use ready::ground::SEED;

/// A ground with its piles and the plan for them.
#[derive(Debug)]
pub struct Laying {
    /// The ground.
    pub site: Site,
    /// The piles of the order.
    pub piles: Vec<Pile>,
    /// Where they lie.
    pub plan: Laydown,
}

impl Laying {
    /// Plans anew; takes up to some seconds where there are many piles.
    ///
    /// # Errors
    /// [`GroundTrouble`] says what is wrong with the ground.
    pub fn of(
        ordered: &Ordered,
        ground: &Ground,
        put: &BTreeMap<String, PileSpot>,
    ) -> Result<Self, GroundTrouble> {
        let site = Site::of(ground, &ordered.frame)?;
        let build = Build::of(&ordered.frame, &ordered.parts);
        let piles = ready::ground::piles(&ordered.parts, &ordered.frame, &build);
        let plan = ready::ground::lay_out(&site, &piles, put, SEED);
        Ok(Self { site, piles, plan })
    }
}

/// What a plan follows from.
type Given = (String, Ground, BTreeMap<String, PileSpot>);
type Kept = Option<(Given, Result<Arc<Laying>, GroundTrouble>)>;

/// The last plan. Whoever asks while it is made waits for it instead of making it once more.
#[derive(Clone, Debug, Default)]
pub(crate) struct LayingKept(Arc<Mutex<Kept>>);

impl LayingKept {
    /// The plan as things stand; nothing without an order or a ground.
    pub async fn of(
        &self,
        standing: &Arc<Standing>,
    ) -> Result<Option<Result<Arc<Laying>, GroundTrouble>>, Failure> {
        let plans = &standing.state.plans;
        let (Some(ordered), Some(ground)) = (standing.ordered(), &plans.ground) else {
            return Ok(None);
        };
        let given = (ordered.order.write(), ground.clone(), plans.spots.clone());
        let mut kept = self.0.lock().await;
        if let Some((known, laying)) = &*kept
            && *known == given
        {
            return Ok(Some(laying.clone()));
        }
        let standing = standing.clone();
        let made = tokio::task::spawn_blocking(move || {
            let plans = &standing.state.plans;
            let (ordered, ground) = (standing.ordered()?, plans.ground.as_ref()?);
            Some(Laying::of(ordered, ground, &plans.spots).map(Arc::new))
        });
        let broken = |_| Failure::refused("The plan could not be made. Ask again.");
        let Some(laying) = made.await.map_err(broken)? else {
            return Ok(None);
        };
        *kept = Some((given, laying.clone()));
        Ok(Some(laying))
    }
}
