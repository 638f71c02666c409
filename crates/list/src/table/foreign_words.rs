//! What people write above columns in other languages: German, French, Spanish, Dutch. Common practice, no source.

use crate::table::column_words::Role;

/// In lower case, as [`super::column_words::role`] looks for them.
pub const WORDS: &[(Role, &[&str])] = &[
    (
        Role::Quantity,
        &[
            "anzahl",
            "stückzahl",
            "stück",
            "quantité",
            "quantite",
            "qté",
            "qte",
            "nombre",
            "cantidad",
            "cant.",
            "cant",
            "aantal",
            "hoeveelheid",
        ],
    ),
    (
        Role::Shipped,
        &[
            "geliefert",
            "liefermenge",
            "livré",
            "livrée",
            "qté livrée",
            "enviado",
            "geleverd",
        ],
    ),
    (
        Role::Ordered,
        &[
            "bestellt",
            "bestellmenge",
            "commandé",
            "commandée",
            "qté commandée",
            "pedido",
            "besteld",
        ],
    ),
    (
        Role::Unit,
        &["einheit", "me", "unité", "unite", "unidad", "eenheid"],
    ),
    (
        Role::Code,
        &[
            "artikelnummer",
            "artikel-nr.",
            "artikel-nr",
            "artikelnr.",
            "artikelnr",
            "art.-nr.",
            "art.-nr",
            "art.nr.",
            "teilenummer",
            "référence",
            "reference",
            "réf.",
            "réf",
            "código",
            "codigo",
            "artikelcode",
        ],
    ),
    (
        Role::Description,
        &[
            "bezeichnung",
            "beschreibung",
            "benennung",
            "désignation",
            "designation",
            "libellé",
            "descripción",
            "descripcion",
            "omschrijving",
            "beschrijving",
        ],
    ),
    (Role::Item, &["artikel", "artículo", "articulo"]),
    (
        Role::Detail,
        &[
            "länge",
            "maß",
            "abmessung",
            "longueur",
            "longitud",
            "lengte",
            "bemerkung",
            "remarque",
        ],
    ),
    (
        Role::Other,
        &[
            "pos", "pos.", "position", "gewicht", "preis", "poids", "prix", "peso", "precio",
            "prijs",
        ],
    ),
];
