//! What the document as a whole does; each kind of fault has its test in `faults`.

use super::*;

#[test]
fn the_template_can_be_used() {
    let scene = read("template.ron", template()).unwrap_or_else(|faults| panic!("{}", faults[0]));
    let site = scene.site().unwrap();
    assert_eq!(site.wires.len(), 4);
    assert_eq!(site.crane.sections.len(), 4);
}
