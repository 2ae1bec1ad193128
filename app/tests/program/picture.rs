//! `picture`: the site drawn into a file, without a display.

use super::{ALDER_ROAD, Bench, JUNIPER_LANE, set};

/// What is wrong with a request is said before anything is drawn.
#[track_caller]
fn refused(bench: &Bench, arguments: &[&str], expected: &str) {
    let run = bench.run(&[&["picture"], arguments].concat());
    assert_eq!((run.status, run.out.as_str()), (2, ""), "{arguments:?}: {}", run.err);
    let said = run.err.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(said.contains(expected), "{arguments:?}: {said}");
    assert!(!bench.files().iter().any(|name| name.ends_with(".png")), "{arguments:?}");
}

fn bench() -> Bench {
    let bench = Bench::new();
    bench.put("job.ron", JUNIPER_LANE);
    bench
}

#[test]
fn a_view_that_does_not_exist_lists_those_that_do() {
    refused(&bench(), &["job.ron", "-o", "a.png", "--view", "hut"], "side, line, above, seat, observer, bucket");
}

#[test]
fn a_request_that_makes_no_sense_says_what_was_expected() {
    let bench = bench();
    for (arguments, expected) in [
        (&["job.ron"][..], "--output <FILE>"),
        (&["-o", "a.png"], "<SCENE>"),
        (&["job.ron", "-o", "a.png", "--size", "huge"], "for instance 1280x720"),
        (&["job.ron", "-o", "a.png", "--size", "9000x720"], "to 8192x8192"),
        (&["job.ron", "-o", "a.png", "--time", "soon"], "expected minutes and seconds, for instance 12:30"),
        (&["job.ron", "-o", "a.png", "--time", "1:61"], "expected minutes and seconds"),
        (&["job.ron", "-o", "a.png", "--step", "first"], "'first'"),
        (&["job.ron", "-o", "a.png", "--step", "1", "--time", "1:00"], "cannot be used with"),
        (&["job.ron", "-o", "job.ron"], "Found job.ron; expected the name of a picture, for instance job.png"),
        (&["missing.ron", "-o", "a.png"], "there is no such file"),
    ] {
        refused(&bench, arguments, expected);
    }
}

#[test]
fn a_scene_with_faults_is_not_drawn() {
    let bench = Bench::new();
    bench.put("bad.ron", set(ALDER_ROAD, "voltage", "12.47 kg"));
    refused(&bench, &["bad.ron", "-o", "a.png"], "voltage");
}

#[test]
fn the_help_tells_when_from_where_and_what_it_needs() {
    let run = Bench::new().run(&["picture", "--help"]);
    assert_eq!((run.status, run.err.as_str()), (0, ""));
    let said = run.out.split_whitespace().collect::<Vec<_>>().join(" ");
    for part in [
        "needs no display, but a graphics device, in software too",
        "when the pair that governs has the least left",
        "It judges nothing",
        "From the operator's seat",
        "one that is there is replaced",
        "MM:SS",
        "1280x720",
    ] {
        assert!(said.contains(part), "{part:?} is missing in: {said}");
    }
}

#[cfg(not(feature = "window"))]
#[test]
fn a_build_without_the_window_says_that_it_draws_no_pictures() {
    refused(&bench(), &["job.ron", "-o", "a.png"], "made without the feature `window`");
}

#[cfg(feature = "window")]
mod drawn {
    use super::super::Run;
    use super::super::software::draw_in_software;
    use super::*;
    use image::RgbImage;

    #[test]
    fn a_step_or_a_time_that_the_job_does_not_have_says_how_far_it_goes() {
        let bench = bench();
        refused(&bench, &["job.ron", "-o", "a.png", "--step", "0"], "Found step 0; expected one of 1 to 36");
        refused(&bench, &["job.ron", "-o", "a.png", "--step", "37"], "Found step 37; expected one of 1 to 36");
        refused(&bench, &["job.ron", "-o", "a.png", "--time", "9:00:00"], "after the end of the job, which is at");
    }

    #[test]
    fn an_instant_after_the_motion_stops_is_a_finding() {
        let bench = Bench::new();
        // A pole that cannot hang.
        bench.put("stops.ron", set(ALDER_ROAD, "choker_from_butt", "12 ft"));
        for at in [["--step", "1"], ["--step", "2"], ["--time", "1:00"]] {
            let run = bench.run(&[&["picture", "stops.ron", "-o", "a.png"], &at[..]].concat());
            assert_eq!(run.status, 1, "{at:?}: {}", run.err);
            assert!(run.err.contains("The motion stops before step 1 \"Set up\""), "{at:?}: {}", run.err);
        }
    }

    #[test]
    fn without_a_graphics_device_it_says_so_and_what_to_install() {
        let bench = bench();
        let none = bench.path("none.json");
        let mut command = bench.command(&["picture", "job.ron", "-o", "a.png"]);
        let output = command.env("VK_ICD_FILENAMES", &none).env("VK_DRIVER_FILES", &none).output().unwrap();
        let run = Run::of(output);
        assert_eq!(run.status, 2, "{}", run.err);
        assert!(run.err.contains("There is no graphics device here"), "{}", run.err);
        assert!(run.err.contains("mesa-vulkan-drivers"), "{}", run.err);
        assert_eq!(bench.files(), ["job.ron"]);
    }

    /// The picture, or nothing where there is no graphics device and none is demanded.
    #[track_caller]
    fn draw(bench: &Bench, arguments: &[&str]) -> Option<RgbImage> {
        let mut command = bench.command(&[&["picture", "-o", "a.png"], arguments].concat());
        draw_in_software(&mut command);
        let run = Run::of(command.output().unwrap());
        if run.status == 2 && run.err.contains("no graphics device") {
            assert!(std::env::var_os("PLUMBRISE_MUST_DRAW").is_none(), "no Vulkan device: {}", run.err);
            eprintln!("NOT RUN: no Vulkan device; install mesa-vulkan-drivers");
            return None;
        }
        assert_eq!((run.status, run.out.as_str()), (0, ""), "{}", run.err);
        Some(image::open(bench.path("a.png")).unwrap().into_rgb8())
    }

    /// How many pixels above the legend, from the top down to this share of the height, are like this color.
    fn count(picture: &RgbImage, share: f64, like: impl Fn([i32; 3]) -> bool) -> usize {
        let rows = (f64::from(picture.height()) * share) as u32;
        let above = picture.enumerate_pixels().filter(|(_, y, _)| *y < rows);
        above.filter(|(_, _, pixel)| like(pixel.0.map(i32::from))).count()
    }

    #[test]
    fn the_site_is_drawn_without_a_display() {
        let bench = bench();
        let Some(picture) = draw(&bench, &["job.ron", "--size", "960x540"]) else { return };
        assert_eq!(picture.dimensions(), (960, 540));
        assert_eq!(bench.files(), ["a.png", "job.ron"]);
        let found = |like: fn([i32; 3]) -> bool| count(&picture, 0.8, like);
        let (wires, covers) =
            (found(|[r, g, b]| r.max(g).max(b) < 40), found(|[r, g, b]| r > 160 && r - g > 60 && g - b > 30));
        let (boom, sky) =
            (found(|[r, g, b]| r > 150 && r - b > 60 && r - g < 60), found(|[r, _, b]| b > 210 && b - r > 15));
        assert!(wires > 300 && covers > 15 && boom > 1000 && sky > 50_000, "{wires} {covers} {boom} {sky}");
    }

    #[test]
    fn a_tall_picture_whose_letters_grow_is_drawn_too() {
        let bench = bench();
        let Some(picture) = draw(&bench, &["job.ron", "--size", "300x760"]) else { return };
        let sky = count(&picture, 0.3, |[r, g, b]| r + g + b > 400);
        assert!(sky > 20_000, "{sky}");
    }

    #[test]
    fn the_pole_comes_into_the_sight_of_the_operator_and_wears_the_colour_of_its_margin() {
        let bench = bench();
        // Against the sky from the seat: the ochre of a covered wire that the pole comes near, nothing of it in the beginning.
        let ochre = |step| {
            let picture = draw(&bench, &["job.ron", "--size", "640x400", "--view", "seat", "--step", step])?;
            Some(count(&picture, 0.3, |[r, g, b]| r > 100 && r - b > 35 && r - g > 20))
        };
        let Some(lying) = ochre("1") else { return };
        let between = ochre("27").unwrap();
        assert!(lying < 50 && between > 300, "{lying} {between}");
    }

    #[test]
    fn the_same_request_gives_the_same_picture_and_another_step_another() {
        let bench = bench();
        let small = |step| ["job.ron", "--size", "320x200", "--step", step];
        let Some(first) = draw(&bench, &small("20")) else { return };
        assert!(draw(&bench, &small("20")).unwrap() == first);
        assert!(draw(&bench, &small("30")).unwrap() != first);
    }

    #[test]
    fn every_view_is_another_picture() {
        let bench = bench();
        let mut seen: Vec<RgbImage> = Vec::new();
        for view in ["side", "line", "above", "seat", "observer", "bucket"] {
            let Some(picture) = draw(&bench, &["job.ron", "--size", "320x200", "--view", view]) else { return };
            assert!(!seen.contains(&picture), "{view}");
            seen.push(picture);
        }
    }
}
