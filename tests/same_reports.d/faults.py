"""What the reader refuses: a line of work each, its base scene, and the edits that break it."""

# A pair is a text that stands in the scene and what replaces its first occurrence.
# A whole scene stands as one text or bytes instead of edits.

SET_UP = (
    '(name: "Set up", do: start(butt: ("-20 ft", "-38 ft", "0 ft"), tip_toward: ("-80 ft", "-38 ft", "0 ft"), '
    'boom_length: "110 ft"))'
)
CLAD_HANGS = 'hang: [tension("300 to 420 lbf"), sag("1 ft to 1 ft 6 in")]'

FAULTS = [
    # ---- the file
    ("an empty file", ""),
    ("a file that is not text", b"(a: \xff)"),
    ("a file of more than a megabyte", " " * (1024 * 1024 + 1)),
    ("brackets in brackets without end", "[" * 65),
    ("a comma is missing", "everything", [("format: 1,", "format: 1")]),
    ("a quotation mark is missing", "everything", [('"Alder Road, pole 3"', '"Alder Road, pole 3')]),
    ("the file ends in the middle", "everything", [("steps: [", "steps: [\x00")]),
    ("a scene of another version", "everything", [("format: 1", "format: 2")]),
    # ---- fields
    ("the sling has no length", "everything", [('length: "8 ft",', "")]),
    ("a field is misspelled", "everything", [("choker_face:", 'chocker_face: "0 deg", choker_face:')]),
    ("a field stands twice", "everything", [("choke_angle:", 'choke_angle: "120 deg", choke_angle:')]),
    ("the stop is answered in quotes", "everything", [("stop_above_choke: true", 'stop_above_choke: "yes"')]),
    ("the sling's material is misspelled", "everything", [("material: non_conductive", "material: nonconductive")]),
    ("the setting depth has no unit", "everything", [('setting_depth: "7 ft 6 in"', 'setting_depth: "7.5"')]),
    ("the setting depth is 40 ft", "everything", [('setting_depth: "7 ft 6 in"', 'setting_depth: "40 ft"')]),
    ("the setting depth is a number without quotes", "everything", [('setting_depth: "7 ft 6 in"', "setting_depth: 7.5")]),
    ("the setting depth is in pounds", "everything", [('setting_depth: "7 ft 6 in"', 'setting_depth: "7 lb"')]),
    ("the setting depth is negative", "everything", [('setting_depth: "7 ft 6 in"', 'setting_depth: "-7 ft 6 in"')]),
    ("the setting depth has words", "everything", [('setting_depth: "7 ft 6 in"', 'setting_depth: "about 7 ft"')]),
    ("the sag is one figure", "everything", [('sag("3 ft to 3 ft 8 in")', 'sag("3 ft")')]),
    ("the sag runs from high to low", "everything", [('sag("3 ft to 3 ft 8 in")', 'sag("3 ft 8 in to 3 ft")')]),
    ("a source is blank", "everything", [('source: "micrometer and scale"', 'source: " "')]),
    ("no weather is stated", "everything", [('(name: "still", wind: "0 mph", note: "n"),\n    (name: "breeze", wind: "12 mph"),', "")]),
    ("a pole has 2001 unlocked joints", "everything", [("unlocked_joints: [", "unlocked_joints: [" + '"29 ft",' * 2000)]),
    ("two hundred heights are numbers", "everything", [("unlocked_joints: [", "unlocked_joints: [" + "1," * 200)]),
    ("a boom longer than it is", "tap", [("do: boom_over(hole)", 'do: extend("200 ft")')]),
    ("an item answered twice", "tap", [('"briefing": ', '"crew": "Ames and two more",\n      "briefing": ')]),
    ("an item answered by nothing", "tap", [('"crew": ', '"crew": "", //')]),
    ("a day that does not exist", "tap", [('date: "2026-06-11"', 'date: "2026-06-31"')]),
    ("a role that nobody has", "tap", [("roles: [foreman]", "roles: [boss]")]),
    ("a person without a role", "tap", [("roles: [foreman]", "roles: []")]),
    ("two people of one name", "tap", [('name: "Quist"', 'name: "Dale"')]),
    ("a reason that there is not", "tap", [("reason: nothing_under_the_line", "reason: because")]),
    ("an answer of no kind", "tap", [('"under_pole": arranged(', '"under_pole": done(')]),
    ("a pole guard beyond the tip", "over the top", [('over: pole("7 ft 6 in to 46 ft")', 'over: pole("7 ft 6 in to 60 ft")')]),
    ("hose beyond the last support", "over the top", [('stations: "-14 ft to 14 ft"', 'stations: "-14 ft to 160 ft"')]),
    # ---- names
    ("a phase is held out that is not there", "everything", [('wire: "C"', 'wire: "c"')]),
    ("a conductor is misspelled", "everything", [('conductor: "Sparrow"', 'conductor: "Sparow"')]),
    ("a conductor is unheard of", "everything", [('conductor: "Sparrow"', 'conductor: "Pterodactyl"')]),
    ("two wires have one name", "everything", [('name: "B",', 'name: "A",')]),
    ("a model and a machine of its own", "everything", [("at: (\"0 ft\", \"-38 ft\", \"0 ft\")", "model: \"Northfell 40\", at: (\"0 ft\", \"-38 ft\", \"0 ft\")")]),
    ("a crane model is misspelled", "over the top", [('model: "Northfell 40"', 'model: "Northfel 40"')]),
    ("a bucket truck model is misspelled", "over the top", [('model: "Tallis 46"', 'model: "Talis 46"')]),
    ("a wire's circuit is misspelled", "over the top", [('phase("Juniper 4")', 'phase("Juniper 5")')]),
    ("a step is misspelled", "over the top", [('after("Cover the wires")', 'after("Cover the wire")')]),
    ("an action is unheard of", "over the top", [("do: upend)", "do: tip_up)")]),
    # ---- statements
    ("an allowance of zero has no reason", "everything", [('line_movement: (value: "3 in")', 'line_movement: (value: "0 in")')]),
    ("communication is absent but there", "everything", [('listed(["strand"])', 'absent("looked")')]),
    ("a phase is listed as communication", "everything", [('listed(["strand"])', 'listed(["A"])')]),
    ("structures are absent but there", "everything", [('structures: listed(["pole 2", "maple"])', 'structures: absent("looked")')]),
    # ---- the line
    ("a span has no length", "everything", [('("20 ft", "8 ft", "38 ft")', '("-150 ft", "8 ft", "38 ft")')]),
    ("attachments for one of three points", "everything", [(CLAD_HANGS, CLAD_HANGS + ",\n      attached: [tied]")]),
    ("a span's sag is not stated", "everything", [(CLAD_HANGS, 'hang: [tension("300 to 420 lbf")]')]),
    ("a sag deeper than half the span", "everything", [('sag("1 ft to 1 ft 6 in")', 'sag("1 ft to 70 ft")')]),
    ("strung by sag and by tension", "everything", [('sag: "2 ft 6 in to 3 ft",', 'sag: "2 ft 6 in to 3 ft", tension: "300 to 340 lbf",')]),
    ("strung with a sag deeper than half the span", "everything", [('sag: "2 ft 6 in to 3 ft",', 'sag: "2 ft 6 in to 160 ft",')]),
    ("a ruling section without this span", "everything", [('section(["280 ft", "300 ft"])', 'section(["280 ft", "310 ft"])')]),
    ("an initial condition of two percent", "everything", [('condition: initial("0 % to 0.05 %")', 'condition: initial("0 % to 2 %")')]),
    ("a condition is unheard of", "everything", [("condition: final", "condition: last")]),
    ("a knee in feet", "everything", [('knee: "80 F"', 'knee: "80 ft"')]),
    ("today's temperature from high to low", "everything", [('today: "60 F to 95 F",\n          knee', 'today: "95 F to 60 F",\n          knee')]),
    ("ice without thickness", "everything", [('ice: (thickness: "0 in to 0.1 in", ', "ice: (")]),
    ("an expansion a million times too great", "everything", [('expansion: "9.4e-6 /F"', 'expansion: "9.4 /F"')]),
    ("a core of copper", "everything", [("core: one_metal", "core: copper")]),
    ("a phase is held out beyond its last support", "everything", [('station: "2 ft"', 'station: "151 ft"')]),
    # ---- the pole
    ("a section wider at its top", "everything", [('top: "8 in"', 'top: "12 in"')]),
    ("a wall thicker than the tube", "everything", [('top: "8 in", wall: "3/16 in"', 'top: "3 in", wall: "1 3/4 in"')]),
    ("an upper section that does not slip over", "everything", [('bottom: "11 5/8 in"', 'bottom: "10 in"')]),
    ("a lap longer than its section", "everything", [('length: "27 ft", bottom: "11 5/8 in", top: "8 in", wall: "3/16 in", lap: "2 ft"',
        'length: "20 ft", bottom: "11 5/8 in", top: "8 in", wall: "3/16 in", lap: "20 ft"')]),
    ("a lap at the butt", "everything", [('lap: "0 in"', 'lap: "1 ft"')]),
    ("sections longer than the pole", "everything", [('length: "27 ft"', 'length: "28 ft"')]),
    ("a joint above the tip", "everything", [('unlocked_joints: ["29 ft"]', 'unlocked_joints: ["56 ft"]')]),
    ("a choker at the tip", "everything", [('choker_from_butt: "37 ft"', 'choker_from_butt: "55 ft"')]),
    ("set deeper than the hole", "everything", [('setting_depth: "7 ft 6 in"', 'setting_depth: "8 ft"')]),
    ("a class that no table has", "below", [('wood(class: "3"', 'wood(class: "33"')]),
    ("a species that no table has", "below", [('species: "southern yellow pine"', 'species: "souther yellow pine"')]),
    # ---- the crane
    ("chart radii out of order", "everything", [('(radius: "12 ft", rated', '(radius: "10 ft", rated')]),
    ("a chart row one rating short", "everything", [('rated: ["80000 lb", "-", "-", "-"]', 'rated: ["80000 lb", "-", "-"]')]),
    ("a boom section that slides out", "everything", [('length: "31 ft", width: "15 in"', 'length: "25 ft", width: "15 in"')]),
    ("sections shorter than the boom", "everything", [('tip_extended: "110 ft"', 'tip_extended: "109 ft"')]),
    ("swung faster than the maker allows", "everything", [('swing: "1 deg/s"', 'swing: "3 rpm"')]),
    ("a swing of more than a circle", "everything", [('swing: "0 deg to 360 deg"', 'swing: "-10 deg to 360 deg"')]),
    # ---- the bucket truck
    ("insulation longer than its section", "everything", [('from_tip: "18 in to 15 ft"', 'from_tip: "18 in to 24 ft"')]),
    ("stowed beyond the fold", "everything", [('upper: "170 deg"', 'upper: "180 deg"')]),
    ("stowed below the lower boom's angle", "everything", [('lower: "2 deg"', 'lower: "-2 deg"')]),
    ("a boom length that its section lacks", "everything", [('length: "23 ft to 23 ft"', 'length: "20 ft to 23 ft"')]),
    ("no rate for the lower boom", "everything", [('lower: "4 deg/s", upper', "upper")]),
    ("rotated faster than the maker allows", "everything", [('rates: (slew: "3 deg/s"', 'rates: (slew: "7 deg/s"')]),
    ("a bucket at a wire and at a point", "everything", [('point: ("-6 ft", "18 ft", "20 ft")', 'wire: "C", point: ("-6 ft", "18 ft", "20 ft")')]),
    ("a bucket for a wire that is not there", "everything", [('works_on: "C"', 'works_on: "D"')]),
    ("a bucket from a support that is not there", "everything", [("from_point: 2", "from_point: 4")]),
    ("an insulation category that is not there", "everything", [("category: c", "category: d")]),
    ("a method that is not there", "everything", [("method: stick,\n    stick", "method: barehand,\n    stick")]),
    ("a bucket moves without a truck", "below", [('(name: "Ready to dig"', '(name: "Stow", do: bucket_stow),\n    (name: "Ready to dig"')]),
    # ---- the ground
    ("the pole lies on one point", "everything", [('tip_toward: ("-80 ft", "-38 ft", "0 ft")', 'tip_toward: ("-20 ft", "-38 ft", "0 ft")')]),
    ("one spot with two heights", "everything", [('("-40 ft", "60 ft", "2 in")', '("-40 ft", "-80 ft", "2 in")')]),
    ("all spots on one line", "everything", [('      ("-120 ft", "60 ft", "4 in"), ("-40 ft", "60 ft", "2 in"), ("40 ft", "60 ft", "1 in"), ("120 ft", "60 ft", "0 ft"),\n', "")]),
    ("an area that crosses itself", "everything", [('("-110 ft", "30 ft"), ("-60 ft", "30 ft")', '("-60 ft", "30 ft"), ("-110 ft", "30 ft")')]),
    ("a tree lower than its crown", "everything", [('height: "35 ft", trunk', 'height: "9 ft", trunk')]),
    ("a survey without error", "everything", [('accuracy: "2 in"', 'accuracy: "0 in"')]),
    ("a neighbour of a class that no table has", "everything", [('class(length: "45 ft", class: "3"', 'class(length: "45 ft", class: "33"')]),
    # ---- order
    ("held out after it is let back", "everything", [
        ('starts: after("Cover up"),\n      ends: before("Uncover"),\n      note', 'starts: after("Uncover"),\n      ends: before("Cover up"),\n      note')]),
    ("a question before the start", "everything", [("steps: [", 'steps: [ (name: "Early", do: hold("Ready?")),')]),
    ("two starts", "everything", [(SET_UP, SET_UP + ", " + SET_UP.replace("Set up", "Again"))]),
    ("no steps", "over the top", [('  steps: [\n', '  steps: [],\n  note: ""),\n  spare: [\n')]),
    # ---- files beside the scene
    ("a catalog outside the folder", "own catalogs", [('"covers.csv"', '"../covers.csv"')]),
    ("a catalog that is not there", "own catalogs", [('"covers.csv"', '"cover.csv"')]),
    ("a chart that is not there", "own catalogs", [("chart/northfell_40.csv", "chart/northfell.csv")]),
    ("outriggers that the chart lacks", "own catalogs", [('outriggers: "full"', 'outriggers: "quarter"')]),
    ("a conductor of the program stated again", "own catalogs", [('"conductors.csv"', '"again.csv"')]),
    ("a catalog with a wrong column and a wrong figure", "own catalogs", [('"conductors.csv"', '"wrong.csv"')]),
    ("a cover class that no catalog has", "own catalogs", [('own("hardshell 25")', 'own("hardshell 35")')]),
]

# Files that lie beside the variants of the scene with catalogs of its own.
BESIDE = {
    "again.csv": "code_word,type,diameter_in,weight_lb_per_1000ft,rated_strength_lb,source\n"
    'Raven,ACSR,0.4,145,,"label"\nSorrel reconductor,AAC,1.108,1100,,"label"\n',
    "wrong.csv": "code_word,typ,diameter_in,weight_lb_per_1000ft,rated_strength_lb,source\n"
    'Sorrel reconductor,AAC,broad,1100,,"label"\nShort row,AAC\nNo weight,AAC,1.1,,,"label"\n',
}
