//! Units against `uom`, a general library of units that knows nothing of this crate.

use measure::{Length, Mass, MassUnit, Unit};
use uom::si::f64::{Length as Si, Mass as SiMass};
use uom::si::length::{centimeter, foot, inch, meter, micrometer, millimeter};
use uom::si::mass::{gram, kilogram, ounce, pound};

#[test]
fn units_of_length() {
    let unit_sizes = [
        (Unit::Foot, Si::new::<foot>(1.0)),
        (Unit::Inch, Si::new::<inch>(1.0)),
        (Unit::Metre, Si::new::<meter>(1.0)),
        (Unit::Centimetre, Si::new::<centimeter>(1.0)),
        (Unit::Millimetre, Si::new::<millimeter>(1.0)),
    ];
    for (unit, si) in unit_sizes {
        for count in [1_i64, 7, 126, 3200] {
            let ours = Length::read(&count.to_string(), Some(unit)).expect("a length");
            let theirs = si.get::<micrometer>() * count as f64;
            let ours_in_micrometres = ours.as_nanometres() as f64 / 1000.0;
            assert!(
                (ours_in_micrometres - theirs).abs() < 1e-3,
                "{count} {unit:?}: {ours:?}, {theirs}"
            );
        }
    }
    let bow = Length::read("10' 6-1/2\"", None).expect("a length");
    assert!((bow.to_metres() - Si::new::<inch>(126.5).get::<meter>()).abs() < 1e-12);
    assert!((bow.to_inches() - Si::new::<meter>(bow.to_metres()).get::<inch>()).abs() < 1e-9);
}

#[test]
fn units_of_mass() {
    let unit_sizes = [
        (MassUnit::Pound, SiMass::new::<pound>(1.0)),
        (MassUnit::Ounce, SiMass::new::<ounce>(1.0)),
        (MassUnit::Kilogram, SiMass::new::<kilogram>(1.0)),
        (MassUnit::Gram, SiMass::new::<gram>(1.0)),
    ];
    for (unit, si) in unit_sizes {
        let ours = Mass::read("100", Some(unit)).expect("a mass");
        let theirs = si.get::<kilogram>() * 100.0;
        // That library gives the pound and the ounce to seven figures.
        assert!(
            (ours.to_kilograms() / theirs - 1.0).abs() < 2e-7,
            "{unit:?}: {ours:?}, {theirs}"
        );
    }
}
