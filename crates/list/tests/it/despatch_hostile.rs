//! Data made to do harm, or changed anywhere on its way: always an answer, never a panic, and soon.

use std::time::{Duration, Instant};

use list::{limits, read};
use proptest::prelude::*;

const FILES: [&[u8]; 4] = [
    include_bytes!("../samples/receiving/ubl-despatchadvice-2.0-example.xml"),
    include_bytes!("../samples/receiving/ubl-despatchadvice-pe-simple.xml"),
    include_bytes!("../samples/receiving/x12-856-004010-flat-hl.txt"),
    include_bytes!("../samples/receiving/x12-856-003060-bom.txt"),
];

/// Whatever comes back is whole: each line is a row or set aside, and each finds its notice and its units.
fn holds(bytes: &[u8]) {
    let Ok(list) = read(bytes, "notice") else {
        return;
    };
    let Some(data) = &list.despatch else {
        return;
    };
    assert_eq!(list.rows.len() + list.set_aside.len(), data.lines.len());
    for (index, line) in data.lines.iter().enumerate() {
        let notice = &data.notices[line.notice];
        assert!(line.part_of.is_none_or(|parent| parent < index));
        for unit in &line.units {
            let mut at = &notice.units[*unit];
            let mut steps = 0;
            while let Some(parent) = at.parent {
                at = &notice.units[parent];
                steps += 1;
                assert!(steps <= notice.units.len(), "a unit stands in itself");
            }
        }
    }
    assert!(data.warnings.len() <= limits::MAX_DATA_WARNINGS + 1);
}

proptest! {
    #[test]
    fn samples_with_bytes_changed(file in 0..FILES.len(), changes in prop::collection::vec((any::<prop::sample::Index>(), any::<u8>()), 1..12)) {
        let mut bytes = FILES[file].to_vec();
        for (at, byte) in changes {
            let at = at.index(bytes.len());
            bytes[at] = byte;
        }
        holds(&bytes);
    }

    #[test]
    fn samples_with_parts_moved(file in 0..FILES.len(), cuts in prop::collection::vec(any::<prop::sample::Index>(), 3), times in 1_usize..5) {
        let bytes = FILES[file];
        let mut at: Vec<usize> = cuts.iter().map(|cut| cut.index(bytes.len())).collect();
        at.sort_unstable();
        let mut moved = bytes[..at[0]].to_vec();
        for _ in 0..times {
            moved.extend(&bytes[at[1]..at[2]]);
        }
        moved.extend(&bytes[at[1]..]);
        holds(&moved);
    }

    #[test]
    fn segments_of_all_sorts(segments in prop::collection::vec("(HL|LIN|SN1|MAN|CLD|REF|PO4|SLN|MEA|PID|CTT|SE|ST|N1|N4|DTM|TD1|GS|ISA)[*][*a-zA-Z0-9.:\u{1D}é ]{0,24}", 0..60)) {
        let head = "ISA*00*          *00*          *ZZ*A              *ZZ*B              *260304*0930*U*00401*000000001*0*P*:~GS*SH*A*B*20260304*0930*1*X*004010~ST*856*1~";
        holds(format!("{head}{}", segments.join("~")).as_bytes());
    }

    #[test]
    fn starts_of_all_sorts(start in "(ISA|GS|ST|UNA:|<|<\\?xml|isa)?[*~|<>!:a-zA-Z0-9 \r\n\u{1C}-\u{1F}é\u{85}]{0,300}") {
        holds(start.as_bytes());
        holds(&[b"\xFF\xFE", &start.encode_utf16().flat_map(u16::to_le_bytes).collect::<Vec<u8>>()[..]].concat());
    }
}

/// Large files of either kind, and such as look like many things at once; a debug build has ten times as long.
#[test]
fn large_ones_come_back_soon() {
    let most = if cfg!(debug_assertions) { 40 } else { 4 };
    let isa = "ISA*00*          *00*          *ZZ*A              *ZZ*B              *260304*0930*U*00401*000000001*0*P*:~";
    let group = "GS*SH*A*B*20260304*0930*1*X*004010~ST*856*1~BSN*00*S*20260304*0930~HL*1**S~";
    let items: String = (2..20_002)
        .map(|n| format!("HL*{n}*1*I~LIN**VP*P{n}~SN1**1*EA~MAN*GM*00106141411234567897~"))
        .collect();
    let chain: String = (2..20_002)
        .map(|n| format!("HL*{n}*{}*P~MAN*GM*1~", n - 1))
        .collect();
    let line = "<cac:DespatchLine><cbc:ID>1</cbc:ID><cbc:DeliveredQuantity unitCode=\"EA\">1</cbc:DeliveredQuantity><cac:Item><cbc:Name>Post</cbc:Name></cac:Item>\
        <cac:Shipment><cbc:ID>1</cbc:ID><cac:TransportHandlingUnit><cbc:ID>";
    let end = "</cbc:ID></cac:TransportHandlingUnit></cac:Shipment></cac:DespatchLine>";
    let lines: String = (0..20_000).map(|n| format!("{line}{n}{end}")).collect();
    let ns = "urn:oasis:names:specification:ubl:schema:xsd:";
    let root = format!(
        "<DespatchAdvice xmlns=\"{ns}DespatchAdvice-2\" xmlns:cac=\"{ns}CommonAggregateComponents-2\" xmlns:cbc=\"{ns}CommonBasicComponents-2\">"
    );
    for text in [
        format!("{isa}{group}{items}"),
        format!("{isa}{group}{chain}HL*30000*20001*I~LIN**VP*A~SN1**1*EA~"),
        format!(
            "{isa}{group}HL*2*1*I~LIN{}~SN1**1*EA~",
            "*VP*X".repeat(200_000)
        ),
        format!("{isa}{}", "ISA*00*".repeat(500_000)),
        format!(
            "{isa}{group}HL*2*1*I~LIN**VP*A~SN1**1*EA~IEA*1*1~{}",
            "ISA*\n".repeat(200_000)
        ),
        format!("{root}{lines}</DespatchAdvice>"),
        format!("{root}{}", "<cbc:ID>".repeat(1_000_000)),
        format!(
            "{root}<cbc:Note>{}</cbc:Note></DespatchAdvice>",
            "&#65;".repeat(2_000_000)
        ),
        "u".repeat(20 << 20),
        format!("<{}", "u".repeat(20 << 20)),
        "S".repeat(8 << 20),
    ] {
        let start = Instant::now();
        holds(text.as_bytes());
        let took = start.elapsed();
        assert!(
            took < Duration::from_secs(most),
            "{took:?} for {}…",
            &text[..40]
        );
    }
}
