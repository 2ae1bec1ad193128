//! Pictures of the window: held against approved ones, and looked at for a few plain things.

use image::{GrayImage, Luma, RgbImage};
use std::path::{Path, PathBuf};

/// Renderers in software differ by a pixel at edges and by a few levels in shades; what is drawn elsewhere, otherwise or not
/// at all differs by more than this after a blur over three by three pixels.
const LEVELS: u8 = 24;
/// Of all pixels, those that may differ by more. A button is 0.1 %, a word 0.05 %.
const SHARE: f64 = 0.0008;

/// Where approved pictures stand, and where a picture that is not like its approved one is put.
fn approved(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/window/approved").join(format!("{name}.png"))
}

/// Like the approved picture of this name, or why not. With PLUMBRISE_APPROVE set, this is the approved one from now on.
pub fn held_against_approved(name: &str, seen: &RgbImage) -> Result<(), String> {
    let path = approved(name);
    if std::env::var_os("PLUMBRISE_APPROVE").is_some() {
        seen.save(&path).unwrap();
        return Ok(());
    }
    let known = image::open(&path).map_err(|why| format!("{}: {why}", path.display()))?.into_rgb8();
    if known.dimensions() != seen.dimensions() {
        return Err(format!("{name}: {:?} pixels, approved are {:?}", seen.dimensions(), known.dimensions()));
    }
    let differs = difference(&known, seen);
    let share = share(&differs);
    if share <= SHARE {
        return Ok(());
    }
    let folder = Path::new(env!("CARGO_TARGET_TMPDIR"));
    let (as_seen, as_differs) =
        (folder.join(format!("{name}.seen.png")), folder.join(format!("{name}.difference.png")));
    seen.save(&as_seen).unwrap();
    differs.save(&as_differs).unwrap();
    Err(format!(
        "{name}: {:.3} % of the pixels differ by more than {LEVELS} levels, {:.3} % may\n  approved {}\n  seen {}\n  difference {}\n  if it is meant so: PLUMBRISE_APPROVE=1 cargo test -p plumbrise --test window",
        share * 100.0,
        SHARE * 100.0,
        path.display(),
        as_seen.display(),
        as_differs.display()
    ))
}

/// How far apart each pixel's worst channel is, both slightly blurred.
fn difference(a: &RgbImage, b: &RgbImage) -> GrayImage {
    let (a, b) = (blurred(a), blurred(b));
    GrayImage::from_fn(a.width(), a.height(), |x, y| {
        let (p, q) = (a.get_pixel(x, y).0, b.get_pixel(x, y).0);
        Luma([p.iter().zip(q).map(|(p, q)| p.abs_diff(q)).max().unwrap_or(0)])
    })
}

fn share(differs: &GrayImage) -> f64 {
    differs.pixels().filter(|p| p.0[0] > LEVELS).count() as f64 / f64::from(differs.width() * differs.height())
}

/// Each pixel the mean of three by three.
fn blurred(picture: &RgbImage) -> RgbImage {
    let (wide, tall) = picture.dimensions();
    RgbImage::from_fn(wide, tall, |x, y| {
        let (mut sum, mut count) = ([0_u32; 3], 0);
        for (x, y) in (x.saturating_sub(1)..(x + 2).min(wide))
            .flat_map(|x| (y.saturating_sub(1)..(y + 2).min(tall)).map(move |y| (x, y)))
        {
            count += 1;
            sum.iter_mut().zip(picture.get_pixel(x, y).0).for_each(|(sum, c)| *sum += u32::from(c));
        }
        image::Rgb(sum.map(|sum| (sum / count) as u8))
    })
}

/// How many pixels of the uppermost rows have about this color.
pub fn in_the_head(picture: &RgbImage, colour: [u8; 3]) -> usize {
    picture.enumerate_pixels().filter(|(_, y, pixel)| *y < 36 && is_like(pixel.0, colour)).count()
}

fn is_like(a: [u8; 3], b: [u8; 3]) -> bool {
    a.iter().zip(b).all(|(a, b)| a.abs_diff(b) < 12)
}

/// The middles of the dots by which things are taken hold of: white, with a ring of ink.
pub fn dots(picture: &RgbImage) -> Vec<[i16; 2]> {
    const INK: [u8; 3] = [0, 84, 150];
    let (wide, tall) = (picture.width() as i16, picture.height() as i16);
    let at = |x: i16, y: i16| picture.get_pixel(x as u32, y as u32).0;
    let mut found: Vec<[i16; 2]> = Vec::new();
    for (x, y) in (8..tall - 8).flat_map(|y| (8..wide - 8).map(move |x| (x, y))) {
        let ringed = || {
            [(1, 0), (-1, 0), (0, 1), (0, -1)]
                .iter()
                .all(|(dx, dy)| (3..=6).any(|r| is_like(at(x + dx * r, y + dy * r), INK)))
        };
        let known = |found: &[[i16; 2]]| found.iter().any(|[a, b]| (a - x).abs() < 8 && (b - y).abs() < 8);
        if is_like(at(x, y), [255; 3]) && !known(&found) && ringed() {
            found.push([x + 1, y + 1]);
        }
    }
    found
}

#[test]
fn a_word_that_is_another_is_seen_and_a_shade_that_is_another_is_not() {
    let plain = RgbImage::from_pixel(640, 360, image::Rgb([200, 210, 220]));
    let shaded = RgbImage::from_pixel(640, 360, image::Rgb([204, 206, 225]));
    assert!(share(&difference(&plain, &shaded)) == 0.0);
    let mut written = plain.clone();
    for (x, y) in (40..100).flat_map(|x| (100..112).map(move |y| (x, y))).filter(|(x, y)| (x / 2 + y / 3) % 3 == 0) {
        written.put_pixel(x, y, image::Rgb([20, 20, 20]));
    }
    assert!(share(&difference(&plain, &written)) > SHARE);
}
