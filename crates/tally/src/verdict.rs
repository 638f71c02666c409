//! What is to be said of a mark, in the words that people read.

/// What is to be said of a mark.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Verdict {
    /// Nobody has counted it, and so many should be here.
    NotCounted(i64),
    /// What should be here is here, and fit for use; whatever a list says.
    Fits,
    /// So many fewer than should be here.
    Short(i64),
    /// From weighing or from looks that differ it is sure that some are short, but not how many.
    ShortBetween {
        /// At least so many.
        least: i64,
        /// At most so many.
        most: i64,
    },
    /// From weighing or from looks that differ: as many as this may be short, and perhaps none.
    CouldBeShort(i64),
    /// At so many piles no two looks agree.
    LooksDiffer(usize),
    /// So many more than the house needs and the sender packs as spares.
    Over(i64),
    /// So many of what came cannot be built with.
    Unfit(i64),
    /// So many came wet.
    Wet(i64),
    /// So many come in another shipment.
    Comes {
        /// Pieces.
        quantity: i64,
        /// The shipments.
        with: Vec<String>,
    },
    /// So many came although the list has them in a later shipment.
    Early(i64),
    /// The lists have so many fewer than the house needs.
    ListShort(i64),
    /// The lists have so many more than the house needs and the sender packs as spares.
    ListOver(i64),
    /// The lists have it, but how many cannot be read in these rows, and the rest does not add up.
    ListUnclear(Vec<String>),
    /// More are said to be damaged, bent, wrong or wet than were counted.
    Overdrawn,
}

impl Verdict {
    /// What people read, on pages and papers alike.
    pub fn in_words(&self) -> String {
        match self {
            Verdict::NotCounted(n) => format!("not counted, {n} should be here"),
            Verdict::Fits => "fits".into(),
            Verdict::Short(n) => format!("{n} short"),
            Verdict::ShortBetween { least, most } => format!("{least} to {most} short"),
            Verdict::CouldBeShort(n) => format!("could be {n} short"),
            Verdict::LooksDiffer(1) => "two counts differ: a third look settles it".into(),
            Verdict::LooksDiffer(piles) => {
                format!("counts differ at {piles} piles: a third look settles each")
            }
            Verdict::Over(n) => format!("{n} over"),
            Verdict::Unfit(n) => format!("{n} not fit for use"),
            Verdict::Wet(n) => format!("{n} wet"),
            Verdict::Comes { quantity, with } => {
                format!("{quantity} to come with {}", all_of(with))
            }
            Verdict::Early(n) => format!("{n} came early"),
            Verdict::ListShort(n) => format!("the list has {n} too few"),
            Verdict::ListOver(n) => format!("the list has {n} too many"),
            Verdict::ListUnclear(rows) => {
                format!(
                    "the list does not say clearly how many: see {}",
                    all_of(rows)
                )
            }
            Verdict::Overdrawn => "more marked damaged or wet than counted: look again".into(),
        }
    }
}

/// "Load 2", "Load 2 and Load 3", "Load 2, Load 3 and Load 4".
fn all_of(names: &[String]) -> String {
    match names {
        [] => String::new(),
        [one] => one.clone(),
        [most @ .., last] => format!("{} and {last}", most.join(", ")),
    }
}
