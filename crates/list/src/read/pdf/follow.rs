//! A drawing, followed by us before the library draws it.
//!
//! The library unpacks a form each time that it is drawn, copies its whole state at each `q`, reads fonts, masks and
//! patterns as soon as they are named, and tells of none of it. So it gets only what is needed: letters, lines, and
//! where they stand; each form apart, after we have reckoned what it costs. What stands on a layer that is switched
//! off is left out.
//!
//! **Invariant:** all that the library reads of a file is at most [`limits::MAX_PDF_STEPS`] times sixteen bytes.

use std::collections::{BTreeMap, BTreeSet};

use hayro_syntax::object::dict::keys::{MATRIX, OC, RESOURCES, SUBTYPE};
use hayro_syntax::object::{Array, Dict, MaybeRef, Name, Object, ObjectIdentifier, Stream};
use hayro_syntax::page::Resources;
use hayro_syntax::xref::XRef;
use kurbo::{Affine, Rect};

use super::layers::Layers;
use super::packing;
use super::steps::{Step, Steps};
use crate::error::Refusal;
use crate::limits;

/// Deepest that forms stand in forms; a page of a page of a page is three.
const DEEPEST_FORM: usize = 12;

/// Deepest that states are put away.
const DEEPEST_STATE: usize = 2_000;

/// Most pictures of one page that are drawn; scanners write a page in strips of some lines.
const MOST_PLACED: usize = 1_000;

/// Most points of a path that may be a border.
const MOST_POINTS: usize = 500;

/// How deep the parts of a font are looked into: font, descendant, descriptor, file.
const DEEPEST_FONT: usize = 6;

/// A piece of drawing for the library.
pub struct Part<'a> {
    /// The steps.
    pub contents: Vec<u8>,
    /// What they draw with.
    pub resources: Resources<'a>,
    /// From its places to those from the page's top left.
    pub transform: Affine,
}

/// Follows the drawings of one file.
pub struct Follower<'a> {
    xref: &'a XRef,
    layers: Layers,
    /// Steps counted, over all pages.
    pub steps: u64,
    /// Fonts that are counted, by where they stand.
    fonts: BTreeSet<(usize, usize)>,
    /// How long parts of fonts are, unpacked.
    sizes: BTreeMap<ObjectIdentifier, u64>,
    /// Forms that cannot be unpacked.
    damaged: BTreeSet<ObjectIdentifier>,
    /// The pieces of the drawing, in the order that they begin.
    parts: Vec<Part<'a>>,
    /// The pictures that have names, each to be drawn alone.
    placed: Vec<Part<'a>>,
    /// The area of its pictures, in square points.
    pictures: f64,
    /// It has words on a layer that is switched off.
    hidden: bool,
}

/// What a drawing has.
pub struct Followed<'a> {
    /// Its pieces.
    pub parts: Vec<Part<'a>>,
    /// Its pictures that have names, each a piece of its own, of which no other tells.
    pub placed: Vec<Part<'a>>,
    /// The area of its pictures, in square points.
    pub pictures: f64,
    /// It has words on a layer that is switched off; these are not in the pieces.
    pub hidden: bool,
}

/// What `q` puts away.
#[derive(Clone, Copy)]
struct State {
    place: Affine,
    /// Of fills and of strokes: the colour is that of a plain space, so that its numbers say what is white.
    plain: [bool; 2],
}

impl<'a> Follower<'a> {
    /// Begins with the first page.
    pub fn new(xref: &'a XRef, layers: Layers) -> Self {
        Self {
            xref,
            layers,
            steps: 0,
            fonts: BTreeSet::new(),
            sizes: BTreeMap::new(),
            damaged: BTreeSet::new(),
            parts: Vec::new(),
            placed: Vec::new(),
            pictures: 0.0,
            hidden: false,
        }
    }

    /// Follows one drawing.
    ///
    /// # Errors
    /// It would cost more than any list does.
    pub fn follow(
        &mut self,
        contents: &[u8],
        with: &Resources<'a>,
        transform: Affine,
    ) -> Result<Followed<'a>, Refusal> {
        self.drawing(contents, with, transform, 0)?;
        Ok(Followed {
            parts: std::mem::take(&mut self.parts),
            placed: std::mem::take(&mut self.placed),
            pictures: std::mem::take(&mut self.pictures),
            hidden: std::mem::take(&mut self.hidden),
        })
    }

    /// Counts steps of other kinds, such as letters.
    ///
    /// # Errors
    /// There are more than any list has.
    pub fn step(&mut self, steps: u64) -> Result<(), Refusal> {
        self.steps = self.steps.saturating_add(steps);
        if self.steps > limits::MAX_PDF_STEPS {
            return Err(Refusal::TooMuchDrawn);
        }
        Ok(())
    }

    /// Counts the reading of so many bytes.
    ///
    /// # Errors
    /// There are more than any list has.
    pub fn bytes(&mut self, bytes: u64) -> Result<(), Refusal> {
        self.step(1 + bytes / 16)
    }

    fn drawing(
        &mut self,
        contents: &[u8],
        with: &Resources<'a>,
        transform: Affine,
        depth: usize,
    ) -> Result<(), Refusal> {
        self.bytes(contents.len() as u64)?;
        let part = self.parts.len();
        self.parts.push(Part {
            contents: Vec::new(),
            resources: with.clone(),
            transform,
        });
        let mut out = Vec::new();
        let mut path = Path::default();
        let mut states = vec![State {
            place: transform,
            plain: [true; 2],
        }];
        let mut marks: Vec<bool> = Vec::new();
        for step in Steps::of(contents) {
            let open = states.len();
            let Some(state) = states.last_mut() else {
                break;
            };
            let shown = marks.last().copied().unwrap_or(true);
            match step.what {
                b"q" => {
                    let state = *state;
                    if open > DEEPEST_STATE {
                        return Err(Refusal::PdfLoop("drawings"));
                    }
                    states.push(state);
                    say(&step, &mut out);
                }
                b"Q" if open > 1 => {
                    states.pop();
                    say(&step, &mut out);
                }
                b"cm" => {
                    if let Ok(six) = <[f64; 6]>::try_from(&step.numbers[..]) {
                        state.place *= Affine::new(six);
                        say(&step, &mut out);
                    }
                }
                b"BMC" => marks.push(shown),
                b"BDC" => marks.push(shown && self.shows(&step, with)),
                b"EMC" => {
                    marks.pop();
                }
                b"Do" if shown => {
                    if let Some(name) = step.names.last().and_then(|name| Name::new(name)) {
                        self.step(20 + 20 * depth as u64)?;
                        let place = state.place;
                        self.thing(&step, &name, with, place, depth)?;
                    }
                }
                b"BI" if shown => self.picture(state.place),
                b"Tf" => {
                    self.font(&step, with)?;
                    say(&step, &mut out);
                }
                b"Tr" => {
                    // Letters that cut out what follows are letters all the same.
                    let way = step.numbers.last().map_or(0, |way| *way as u8 % 4);
                    out.extend_from_slice(format!("{way} Tr\n").as_bytes());
                }
                b"Tj" | b"TJ" | b"'" | b"\"" if !shown => {
                    self.hidden = true;
                    if matches!(step.what, b"'" | b"\"") {
                        out.extend_from_slice(b"T*\n");
                    }
                }
                b"BT" | b"ET" | b"Tc" | b"Tw" | b"Tz" | b"TL" | b"Ts" | b"Td" | b"TD" | b"Tm"
                | b"T*" | b"Tj" | b"TJ" | b"'" | b"\"" | b"w" => say(&step, &mut out),
                b"g" | b"rg" | b"k" | b"G" | b"RG" | b"K" => {
                    state.plain[usize::from(step.what[0].is_ascii_uppercase())] = true;
                    say(&step, &mut out);
                }
                b"cs" | b"CS" => {
                    let plain = step.names.last().is_some_and(|name| is_plain(name, with));
                    state.plain[usize::from(step.what == b"CS")] = plain;
                    colour(&[0.0], step.what == b"CS", &mut out);
                }
                b"sc" | b"scn" | b"SC" | b"SCN" => {
                    let stroke = step.what[0] == b'S';
                    let plain = state.plain[usize::from(stroke)] && step.names.is_empty();
                    colour(if plain { &step.numbers } else { &[0.0] }, stroke, &mut out);
                }
                b"m" | b"l" | b"c" | b"v" | b"y" | b"h" | b"re" => path.add(&step),
                b"S" | b"s" | b"f" | b"F" | b"f*" | b"B" | b"B*" | b"b" | b"b*" | b"n" => {
                    if shown && step.what != b"n" && path.points <= MOST_POINTS {
                        out.append(&mut path.said);
                        say(&step, &mut out);
                    }
                    path = Path::default();
                }
                _ => {}
            }
        }
        self.parts[part].contents = out;
        Ok(())
    }

    /// Whether what a mark begins is shown.
    fn shows(&self, step: &Step<'_>, with: &Resources<'a>) -> bool {
        let [kind, name, ..] = step.names[..] else {
            return true;
        };
        kind != b"OC"
            || Name::new(name).is_none_or(|name| self.layers.shows(&with.properties, &name))
    }

    fn picture(&mut self, place: Affine) {
        let drawn = place.transform_rect_bbox(Rect::new(0.0, 0.0, 1.0, 1.0));
        if drawn.is_finite() {
            self.pictures += drawn.area();
        }
    }

    /// A picture, or a form: a drawing within the drawing.
    fn thing(
        &mut self,
        step: &Step<'_>,
        name: &Name<'_>,
        with: &Resources<'a>,
        place: Affine,
        depth: usize,
    ) -> Result<(), Refusal> {
        let Some(thing) = with.get_x_object(name) else {
            return Ok(());
        };
        let dict = thing.dict();
        self.bytes(dict.data().len() as u64)?;
        let kind = dict.get::<Name<'_>>(SUBTYPE);
        let form = kind.is_some_and(|kind| kind.as_ref() == b"Form");
        if dict.contains_key(OC) && !self.layers.shows(dict, OC) {
            self.hidden |= form;
            return Ok(());
        }
        if !form {
            self.picture(place);
            let mut contents = Vec::new();
            say(step, &mut contents);
            if self.placed.len() < MOST_PLACED {
                self.placed.push(Part {
                    contents,
                    resources: with.clone(),
                    transform: place,
                });
            }
            return Ok(());
        }
        if depth >= DEEPEST_FORM {
            return Err(Refusal::PdfLoop("drawings"));
        }
        let id = thing.obj_id();
        if self.damaged.contains(&id) {
            return Ok(());
        }
        let Some(contents) = packing::plain(&thing) else {
            self.damaged.insert(id);
            return Ok(());
        };
        let own = dict.get::<Dict<'_>>(RESOURCES).unwrap_or_default();
        let own = Resources::from_parent(own, with.clone());
        let turn = dict
            .get::<[f64; 6]>(MATRIX)
            .map_or(Affine::IDENTITY, Affine::new);
        self.drawing(&contents, &own, place * turn, depth + 1)
    }

    /// Returns how long a part is, unpacked; it is unpacked once for that.
    fn size(&mut self, part: &Stream<'_>) -> u64 {
        let id = part.obj_id();
        if let Some(size) = self.sizes.get(&id) {
            return *size;
        }
        let size = packing::plain(part).map_or(0, |flat| flat.len() as u64);
        self.sizes.insert(id, size);
        size
    }

    /// Counts what a font costs, the first time that it is named.
    fn font(&mut self, step: &Step<'_>, with: &Resources<'a>) -> Result<(), Refusal> {
        let name = step.names.last().and_then(|name| Name::new(name));
        let Some(font) = name.and_then(|name| with.get_font(&name)) else {
            return Ok(());
        };
        let data = font.data();
        self.bytes(data.len() as u64)?;
        if self.fonts.insert((data.as_ptr() as usize, data.len())) {
            self.weigh(&Object::Dict(font), 0)?;
        }
        Ok(())
    }

    /// Counts all that a font's entries lead to.
    fn weigh(&mut self, object: &Object<'_>, depth: usize) -> Result<(), Refusal> {
        if depth > DEEPEST_FONT {
            return Ok(());
        }
        match object {
            Object::Dict(dict) => {
                self.bytes(dict.data().len() as u64)?;
                self.entries(dict, depth)
            }
            Object::Stream(stream) => {
                let size = self.size(stream);
                self.bytes(size)?;
                self.entries(stream.dict(), depth)
            }
            Object::Array(array) => self.items(array, depth),
            _ => Ok(()),
        }
    }

    fn entries(&mut self, dict: &Dict<'_>, depth: usize) -> Result<(), Refusal> {
        for (key, entry) in dict.entries() {
            // What a font of drawings draws with is not looked at, nor are its drawings.
            if !matches!(key.as_ref(), b"Resources" | b"Parent" | b"CharProcs") {
                self.entry(entry, depth)?;
            }
        }
        Ok(())
    }

    fn items(&mut self, array: &Array<'_>, depth: usize) -> Result<(), Refusal> {
        self.bytes(array.data().len() as u64)?;
        for item in array.raw_iter() {
            self.entry(item, depth)?;
        }
        Ok(())
    }

    fn entry(&mut self, entry: MaybeRef<Object<'_>>, depth: usize) -> Result<(), Refusal> {
        match entry {
            MaybeRef::NotRef(object @ (Object::Dict(_) | Object::Array(_))) => {
                self.weigh(&object, depth + 1)
            }
            MaybeRef::NotRef(_) => Ok(()),
            MaybeRef::Ref(id) => {
                self.step(1)?;
                let object = self.xref.get::<Object<'_>>(id.into());
                object.map_or(Ok(()), |object| self.weigh(&object, depth + 1))
            }
        }
    }
}

/// Steps of a path that is not drawn yet.
#[derive(Default)]
struct Path {
    said: Vec<u8>,
    points: usize,
}

impl Path {
    fn add(&mut self, step: &Step<'_>) {
        self.points += 1;
        let wanted = match step.what {
            b"m" | b"l" => 2,
            b"v" | b"y" | b"re" => 4,
            b"c" => 6,
            _ => 0,
        };
        // A step that lacks a number would end the library's reading.
        if self.points <= MOST_POINTS && step.numbers.len() == wanted {
            say(step, &mut self.said);
        }
    }
}

fn say(step: &Step<'_>, out: &mut Vec<u8>) {
    out.extend_from_slice(&step.with);
    out.extend_from_slice(step.what);
    out.push(b'\n');
}

/// A colour by how many numbers it has.
fn colour(numbers: &[f64], stroke: bool, out: &mut Vec<u8>) {
    let what = match (numbers.len(), stroke) {
        (1, false) => "g",
        (1, true) => "G",
        (3, false) => "rg",
        (3, true) => "RG",
        (4, false) => "k",
        (4, true) => "K",
        _ => return,
    };
    for number in numbers {
        out.extend_from_slice(format!("{number} ").as_bytes());
    }
    out.extend_from_slice(what.as_bytes());
    out.push(b'\n');
}

/// Whether the numbers of a colour space are those of grey, red-green-blue or the four inks.
fn is_plain(name: &[u8], with: &Resources<'_>) -> bool {
    const PLAIN: [&[u8]; 6] = [
        b"DeviceGray",
        b"DeviceRGB",
        b"DeviceCMYK",
        b"ICCBased",
        b"CalRGB",
        b"CalGray",
    ];
    let kind = Name::new(name).and_then(|name| with.get_color_space(&name));
    let first = kind
        .and_then(Object::into_array)
        .and_then(|kind| kind.iter::<Name<'_>>().next());
    first.map_or(PLAIN.contains(&name), |first| {
        PLAIN.contains(&first.as_ref())
    })
}
