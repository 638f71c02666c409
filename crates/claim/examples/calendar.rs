//! Writes the calendar of an invented delivery, for a parser that is not ours: `tests/calendar/run`.

use std::io::Write;

use claim::{
    Act, Agreed, Arrival, Binds, Calendar, Date, Done, Facts, RuleSets, Start, Term, Zone, due,
};

fn main() -> Result<(), Box<dyn std::error::Error>> {
    let delivered = "2026-11-25T20:00:00Z".parse::<jiff::Timestamp>()?;
    let facts = Facts {
        sets: ["us-motor", "ucc"].map(String::from).into(),
        days: [(Start::ClaimReceived, "2026-12-01".parse()?)].into(),
        arrival: Some(Arrival::at(
            delivered.as_millisecond(),
            &Zone::named("America/New_York")?,
            None,
        )?),
        done: vec![Done {
            act: Act::NoteOnReceipt,
            day: "2026-11-25".parse()?,
        }],
        ..Facts::default()
    };
    let agreed = [Agreed {
        rule: "ucc.tell-seller".into(),
        term: Term::Day("2026-11-30".parse()?),
        starts: None,
        binds: Binds::OwnTarget,
        words: "before the crew goes home".into(),
    }];
    let today: Date = "2026-11-25".parse()?;
    let calendar = Calendar {
        job: "osprey-1",
        made_at: delivered.as_millisecond(),
        sequence: 42,
    };
    let file = calendar.file(&[(
        "2; bows, rails\\ends and Bögen – 弓",
        due(RuleSets::built_in(), &facts, &agreed, today),
    )])?;
    std::io::stdout().write_all(file.text.as_bytes())?;
    Ok(())
}
