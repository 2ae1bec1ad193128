//! A machine that cannot reach stops the job, and what does not depend on it is still checked.

use super::{example, has_stop};
use scene_core::check::check;
use scene_core::glam::DVec3;
use scene_core::outcome::Report;
use scene_core::premise::NotChecked;
use scene_core::site::pose::BucketAt;
use scene_core::site::{Action, Site};

const JUNIPER: &str = include_str!("../../scenes/01_juniper_lane.ron");
const FAR: DVec3 = DVec3::new(400.0, 0.0, 10.0);

fn juniper_lane() -> Site {
    example("01_juniper_lane.ron", JUNIPER)
}

fn bodies(report: &Report) -> Vec<&str> {
    let mut found: Vec<&str> = report.gaps.iter().map(|row| row.body.as_str()).collect();
    found.dedup();
    found
}

#[test]
fn a_bucket_that_cannot_reach_ends_its_own_motion_alone() {
    let mut site = juniper_lane();
    let last =
        site.steps.iter().rposition(|step| matches!(step.action, Action::BucketTo(_))).expect("the bucket moves");
    let Action::BucketTo(pose) = &mut site.steps[last].action else { unreachable!() };
    pose.at = BucketAt::Point(FAR);
    assert!(has_stop(&site, "bucket_out_of_reach"));
    let (report, whole) = (check(&site), check(&juniper_lane()));
    assert!(
        report.not_checked.iter().any(|what| matches!(what, NotChecked::LiftStepsFrom { step, .. } if *step == last))
    );
    assert!(!report.not_checked.iter().any(|what| matches!(what, NotChecked::StepsFrom { .. })));
    // The crane, its load and every wire are proven as before.
    let of_crane = |report: &Report, body: &str| -> Vec<(String, String, f64)> {
        let rows = report.gaps.iter().filter(|row| row.body == body);
        rows.map(|row| (row.other.clone(), row.weather.clone(), row.margin_m))
            .filter(|row| !row.0.contains("lift"))
            .collect()
    };
    for body in ["boom", "hoist line", "hook block"] {
        let wires = |report: &Report| -> Vec<_> {
            of_crane(report, body).into_iter().filter(|(_, weather, _)| !weather.is_empty()).collect()
        };
        assert_eq!(wires(&report), wires(&whole), "{body}");
    }
    assert!(bodies(&report).contains(&"bucket"), "what it did before is proven");
}

#[test]
fn a_crane_that_cannot_reach_leaves_the_bucket_to_be_checked() {
    let mut site = juniper_lane();
    let first = site.steps.iter().position(|step| step.action == Action::TakeLoad).expect("the load is taken");
    // The bucket goes up once more at the end, into the wires.
    let into =
        site.steps.iter().find(|step| matches!(step.action, Action::BucketTo(_))).cloned().expect("the bucket moves");
    site.steps[first].action = Action::SwingToward { point: site.crane.at };
    site.steps.push(into);
    let report = check(&site);
    assert!(report.not_checked.iter().any(|what| matches!(what, NotChecked::StepsFrom { step } if *step == first)));
    let late = report.steps.last().expect("the steps are told");
    assert!(late.to_s > late.from_s, "the bucket's last move takes its time");
    assert!(bodies(&report).contains(&"bucket"));
    assert!(!report.findings.iter().any(|finding| finding.code() == "bucket_out_of_reach"));
}
