//! What a result rests on without a look at it, and what of the job nobody looked at: as data. Words are made elsewhere.

/// What is taken to be so.
#[derive(Clone, Debug, PartialEq)]
pub enum Assumed {
    /// Each motion is even.
    EvenMotion,
    /// The pole lies on its own shell on even ground.
    LiesOnShell,
    /// The pole lies with the side down that it will lean to.
    LiesLeanDown,
    /// The butt slides straight toward the point under the hook.
    ButtSlides,
    /// Tag lines hold a hanging pole from turning by itself.
    TagLines,
    /// The pole turns with its choker about the load line.
    TurnsWithChoker,
    /// Extending the boom draws in hoist line.
    ExtendingDrawsLine,
    /// Hands or a tag line guide the butt into the hole.
    ButtGuided,
    /// The bucket truck moves one control at a time.
    BucketControls,
    /// The bucket is set by where the wire hangs by itself in still air.
    BucketSetByStillWire,
    /// The bucket keeps level, with somebody in it.
    BucketLevel,
    /// The guides keep the pole plumb.
    PlumbInGuides,
    /// The auger digs the hole in one pass.
    DugInOnePass,
    /// Temperature and ice are those of the stated sag or tension.
    WiresAsStated,
    /// The state-change equation carries these wires from how they were strung. Shares of what is allowed for.
    WiresAsStrung {
        wires: Vec<String>,
        stiffness: f64,
        expansion: f64,
        weight: f64,
    },
    /// The core alone may carry a wire as strung.
    StrungCore,
    /// Nothing slipped or gave since the wires were strung.
    StrungUnchanged,
    /// The wind on wires is steady and square to each span.
    SteadyWind,
    /// A phase is moved on a straight way.
    HeldStraight,
    /// The holder grips.
    HolderGrips,
    /// Beside a held-out phase the wire may run through supports.
    WireRunsThrough,
    /// No gap counts the thickness of covers.
    CoverThickness,
    /// The hold point or work before letting go shows that the pole stands.
    StandsWhenLetGo,
    /// The pole goes down as it rose.
    WayBackAsItRose,
    /// Voltages are nominal.
    NominalVoltages,
    /// Meters per meter from the hook along the pole.
    LoadSwingGrowth {
        ratio: f64,
    },
    /// The scene declares that something is not there.
    DeclaredAbsent {
        what: String,
    },
    /// The crane is rigid and level on its floats.
    RigidCrane {
        source: String,
    },
    /// The insulated tip of the boom counts as bare steel.
    InsulatedTip {
        length_m: f64,
    },
    NoInsulatedTip,
}

/// What was not looked at.
#[derive(Clone, Debug, PartialEq)]
pub enum NotChecked {
    /// Bodies that belong together, among themselves.
    /// What holds phases aside: how it comes there, what its arms pass, their insulation.
    Holders,
    BodiesAmongThemselves,
    /// Of what these machines stand on: not all of it is stated.
    Carriers {
        machines: Vec<String>,
    },
    /// The ground between spots.
    GroundBetweenSpots,
    /// The pole against the ground while it lies or rises.
    LyingPole,
    /// Hole, backfill, facing, plumb, tag.
    Setting,
    People,
    /// Laying the pole down elsewhere.
    LayingDownElsewhere,
    CoverOrder,
    /// The line work while covers and phases are put on and taken off.
    LineWork,
    LoadSpeed,
    /// The boom from its rest to where the sequence begins, and back.
    BoomFromRest,
    WindOnPoleCovers,
    Condition,
    OutriggersAllOfIt,
    OutriggersTheRest,
    /// The pole against the derrick's own boom.
    DerrickPoleAgainstBoom,
    DiggingLoads,
    GuideStrength,
    AugerSwing,
    BucketTruckAllOfIt,
    BucketTruckTheRest,
    /// Beyond the stated ends of these wires.
    SpansBeyondEnds {
        wires: Vec<String>,
    },
    WireStateChange,
    GustsOnWires,
    CoversOnWires,
    SupportsGive,
    PullOnHolder,
    SupportStrength,
    GroundBeyondSpots,
    LieOfGround,
    WhetherNeighborsStand,
    WherePeopleStand,
    /// The lifting machine and the pole from this step, by index, on.
    StepsFrom {
        step: usize,
    },
    /// A lift from this step, by index, on.
    LiftStepsFrom {
        lift: String,
        step: usize,
    },
}
