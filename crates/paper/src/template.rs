/// A paper's template, `templates/*.typ`.
#[derive(Clone, Copy)]
pub(crate) enum Template {
    Osd,
    Concealed,
    CarrierClaim,
    SenderNotice,
    Replacement,
    Returns,
    TallySheet,
    Drawings,
    TellApart,
    Labels,
    BuildDay,
}

impl Template {
    /// Every template, in the order above.
    pub(crate) const ALL: [Self; 11] = [
        Self::Osd,
        Self::Concealed,
        Self::CarrierClaim,
        Self::SenderNotice,
        Self::Replacement,
        Self::Returns,
        Self::TallySheet,
        Self::Drawings,
        Self::TellApart,
        Self::Labels,
        Self::BuildDay,
    ];

    /// The file's name, which the typesetter's messages say.
    pub(crate) fn name(self) -> &'static str {
        self.file().0
    }

    /// What stands in it.
    pub(crate) fn text(self) -> &'static str {
        self.file().1
    }

    fn file(self) -> (&'static str, &'static str) {
        macro_rules! file {
            ($name:literal) => {
                ($name, include_str!(concat!("../templates/", $name)))
            };
        }
        match self {
            Self::Osd => file!("osd.typ"),
            Self::Concealed => file!("concealed.typ"),
            Self::CarrierClaim => file!("carrier_claim.typ"),
            Self::SenderNotice => file!("sender_notice.typ"),
            Self::Replacement => file!("replacement.typ"),
            Self::Returns => file!("returns.typ"),
            Self::TallySheet => file!("tally_sheet.typ"),
            Self::Drawings => file!("drawings.typ"),
            Self::TellApart => file!("tell_apart.typ"),
            Self::Labels => file!("labels.typ"),
            Self::BuildDay => file!("build_day.typ"),
        }
    }
}
