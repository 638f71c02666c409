//! What people write above columns. Common practice, no source.

/// What a column holds.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum Role {
    /// How many are in this shipment.
    Shipped,
    /// How many, without saying of what stage.
    Quantity,
    /// How many were ordered.
    Ordered,
    /// How many are to follow.
    Backordered,
    /// Each, pair, bundle.
    Unit,
    /// The sender's code, or the mark.
    Code,
    /// What it is.
    Description,
    /// A word that stands over codes, descriptions and line numbers alike: "Item".
    Item,
    /// Which bag, section or assembly.
    SubKit,
    /// Which load.
    Shipment,
    /// Length, gauge, finish and the like, apart from the description.
    Detail,
    /// Weight, price, line number: read past.
    Other,
}

const WORDS: &[(Role, &[&str])] = &[
    (
        Role::Shipped,
        &[
            "shipped",
            "qty shipped",
            "quantity shipped",
            "ship qty",
            "shipped qty",
            "shpd",
            "ship",
            "qty ship",
            "sent",
            "this shipment",
            "qty this shipment",
            "packed",
            "qty packed",
            "delivered",
            "loaded",
        ],
    ),
    (
        Role::Quantity,
        &[
            "qty",
            "quantity",
            "qnty",
            "qty.",
            "count",
            "no of",
            "no. of",
            "pcs",
            "pieces",
            "nos",
            "how many",
            "amount",
            "qty pcs",
            "qty ea",
            "quan",
            "qty (pcs)",
            "qty (ea)",
            "pcs.",
            "number of pieces",
            "menge",
        ],
    ),
    (
        Role::Ordered,
        &[
            "ordered",
            "qty ordered",
            "quantity ordered",
            "order qty",
            "ord",
            "ordered qty",
            "qty ord",
            "required",
            "qty required",
            "req",
            "qty req",
        ],
    ),
    (
        Role::Backordered,
        &[
            "backordered",
            "back ordered",
            "backorder",
            "back order",
            "b/o",
            "bo",
            "qty b/o",
            "qty backordered",
            "to follow",
            "balance",
            "outstanding",
            "b/ordered",
        ],
    ),
    (
        Role::Unit,
        &[
            "unit",
            "units",
            "u/m",
            "um",
            "uom",
            "u.o.m.",
            "unit of measure",
            "u of m",
            "each/pair",
        ],
    ),
    (
        Role::Code,
        &[
            "code",
            "part no",
            "part no.",
            "part #",
            "part number",
            "item no",
            "item no.",
            "item #",
            "item number",
            "item code",
            "sku",
            "mark",
            "piece mark",
            "stock no",
            "stock #",
            "part code",
            "product code",
            "catalog no",
            "cat no",
            "p/n",
            "pn",
            "tag",
            "id",
            "part id",
        ],
    ),
    (
        Role::Description,
        &[
            "description",
            "desc",
            "desc.",
            "item description",
            "part description",
            "product",
            "article",
            "particulars",
            "name",
            "what",
            "part",
            "product description",
            "goods",
            "material description",
            "contents",
            "part name",
        ],
    ),
    (Role::Item, &["item", "items", "material"]),
    (
        Role::SubKit,
        &[
            "sub-kit",
            "subkit",
            "sub kit",
            "kit",
            "section",
            "group",
            "bag",
            "assembly",
            "area",
            "where used",
            "used on",
            "used in",
            "category",
        ],
    ),
    (
        Role::Shipment,
        &[
            "shipment",
            "load",
            "truck",
            "delivery",
            "shipment no",
            "shipment #",
            "ferry",
            "ferry load",
            "load no",
            "trip",
        ],
    ),
    (
        Role::Detail,
        &[
            "length",
            "size",
            "dimensions",
            "dimension",
            "dims",
            "gauge",
            "ga",
            "ga.",
            "od",
            "o.d.",
            "diameter",
            "dia",
            "finish",
            "color",
            "colour",
            "width",
            "ends",
            "end",
            "notes",
            "note",
            "remarks",
            "comment",
            "comments",
            "spec",
            "wall",
            "thickness",
            "len",
            "lgth",
        ],
    ),
    (
        Role::Other,
        &[
            "#",
            "no",
            "no.",
            "line",
            "ln",
            "line no",
            "weight",
            "unit weight",
            "unit wt",
            "wt",
            "wt ea",
            "weight ea",
            "weight each",
            "total weight",
            "total wt",
            "lb",
            "lbs",
            "kg",
            "kg ea",
            "lb ea",
            "ext weight",
            "price",
            "unit price",
            "total",
            "amount due",
            "ext",
            "checked",
            "check",
            "ok",
            "rec'd",
            "received",
            "picked",
            "initials",
            "pallet",
            "box",
            "crate",
            "box no",
            "location",
            "bin",
            "date",
        ],
    ),
];

/// Returns what a cell above a column says of it, when it is such a word and nothing else. A unit in brackets after
/// it, as in "Length (in)", is passed over.
pub fn role(cell: &str) -> Option<Role> {
    if cell.len() > 40 {
        return None;
    }
    let lower = cell.to_lowercase().replace(['\n', '_'], " ");
    let lower = lower.trim().trim_end_matches(':').trim();
    let plain = lower
        .split_once(['(', '['])
        .map_or(lower, |(word, _)| word.trim());
    let unbracketed = if plain.is_empty() { lower } else { plain };
    let find = |text: &str| {
        WORDS
            .iter()
            .find(|(_, words)| words.contains(&text))
            .map(|(role, _)| *role)
    };
    find(lower)
        .or_else(|| find(unbracketed))
        .or_else(|| find(unbracketed.split(',').next()?.trim()))
}
