//! Where the person stands, and the six words that go with it: from a word to the car's axes and back.
//!
//! The words are the person's. Each is mapped by the tables here, one by one, never by turning a frame. Axes of the car
//! (ISO 8855): x forward, y to the car's left, z up.

use job::input::Triple;

/// Where the person stands while measuring; for somebody under the car, where the feet point.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub(crate) enum Stand {
    #[default]
    Front,
    Rear,
    Left,
    Right,
    UnderFront,
    UnderRear,
    UnderLeft,
    UnderRight,
}

/// One of the six ways, from where the person stands.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Way {
    Right,
    Left,
    Up,
    Down,
    Away,
    ToYou,
}

impl Way {
    pub(crate) const ALL: [Self; 6] = [Self::Right, Self::Left, Self::Up, Self::Down, Self::Away, Self::ToYou];

    pub(crate) fn opposite(self) -> Self {
        match self {
            Self::Right => Self::Left,
            Self::Left => Self::Right,
            Self::Up => Self::Down,
            Self::Down => Self::Up,
            Self::Away => Self::ToYou,
            Self::ToYou => Self::Away,
        }
    }
}

/// What a stand is: its word in the job file, what the page calls it, and which way right and away are there.
type Row = (Stand, &'static str, &'static str, Triple, Triple);

const STANDS: [Row; 8] = [
    (Stand::Front, "front", "at the front", [0.0, 1.0, 0.0], [-1.0, 0.0, 0.0]),
    (Stand::Rear, "rear", "at the rear", [0.0, -1.0, 0.0], [1.0, 0.0, 0.0]),
    (Stand::Left, "left", "at the car's left side", [-1.0, 0.0, 0.0], [0.0, -1.0, 0.0]),
    (Stand::Right, "right", "at the car's right side", [1.0, 0.0, 0.0], [0.0, 1.0, 0.0]),
    (Stand::UnderFront, "under, feet to the front", "under it, feet to the front", [0.0, -1.0, 0.0], [-1.0, 0.0, 0.0]),
    (Stand::UnderRear, "under, feet to the rear", "under it, feet to the rear", [0.0, 1.0, 0.0], [1.0, 0.0, 0.0]),
    (Stand::UnderLeft, "under, feet to the left", "under it, feet to the left side", [1.0, 0.0, 0.0], [0.0, -1.0, 0.0]),
    (
        Stand::UnderRight,
        "under, feet to the right",
        "under it, feet to the right side",
        [-1.0, 0.0, 0.0],
        [0.0, 1.0, 0.0],
    ),
];

const UP: Triple = [0.0, 0.0, 1.0];

pub(crate) fn dot(a: Triple, b: Triple) -> f64 {
    a[0] * b[0] + a[1] * b[1] + a[2] * b[2]
}

/// `a` and so much of `b`.
pub(crate) fn plus(a: Triple, b: Triple, by: f64) -> Triple {
    std::array::from_fn(|i| a[i] + by * b[i])
}

pub(crate) fn minus(a: Triple, b: Triple) -> Triple {
    plus(a, b, -1.0)
}

pub(crate) fn norm(a: Triple) -> f64 {
    dot(a, a).sqrt()
}

impl Stand {
    pub(crate) const ALL: [Self; 8] = [
        Self::Front,
        Self::Rear,
        Self::Left,
        Self::Right,
        Self::UnderFront,
        Self::UnderRear,
        Self::UnderLeft,
        Self::UnderRight,
    ];

    fn row(self) -> &'static Row {
        STANDS.iter().find(|row| row.0 == self).unwrap_or(&STANDS[0])
    }

    /// From the word in the job file; the front if it is none of ours.
    pub(crate) fn from_word(word: &str) -> Self {
        STANDS.iter().find(|row| row.1 == word).map_or(Self::Front, |row| row.0)
    }

    /// Its word in the job file.
    pub(crate) fn word(self) -> &'static str {
        self.row().1
    }

    /// What the page calls it.
    pub(crate) fn name(self) -> &'static str {
        self.row().2
    }

    /// Whether the person lies under the car and looks up.
    pub(crate) fn is_under(self) -> bool {
        matches!(self, Self::UnderFront | Self::UnderRear | Self::UnderLeft | Self::UnderRight)
    }

    /// A way in the car's axes.
    pub(crate) fn vector(self, way: Way) -> Triple {
        let (.., right, away) = *self.row();
        match way {
            Way::Right => right,
            Way::Away => away,
            Way::Up => UP,
            other => self.vector(other.opposite()).map(|x| 0.0 - x),
        }
    }

    /// What the person calls a way.
    pub(crate) fn says(self, way: Way) -> &'static str {
        match (way, self.is_under()) {
            (Way::Right, _) => "right",
            (Way::Left, _) => "left",
            (Way::Up, _) => "up",
            (Way::Down, _) => "down",
            (Way::Away, false) => "away",
            (Way::ToYou, false) => "to you",
            (Way::Away, true) => "past your head",
            (Way::ToYou, true) => "to your feet",
        }
    }

    /// The steps of a tape along the three ways, each with its way; a step of nothing is left out.
    pub(crate) fn steps(self, from_a: Triple) -> Vec<(Way, f64)> {
        [Way::Right, Way::Away, Way::Up]
            .into_iter()
            .filter_map(|way| {
                let by = dot(from_a, self.vector(way));
                let way = if by < 0.0 { way.opposite() } else { way };
                (by.abs() > 0.05).then_some((way, by.abs()))
            })
            .collect()
    }

    /// A direction: "right", "right, 30° up", "half-way between right and away, 10° down".
    pub(crate) fn direction(self, points: Triple) -> String {
        let length = norm(points);
        if length <= 0.0 {
            return "nowhere yet".to_owned();
        }
        let points = points.map(|x| x / length);
        let part = |way| dot(points, self.vector(way));
        let signed = |way: Way| if part(way) < 0.0 { way.opposite() } else { way };
        // Whole degrees: a mouth is not read finer.
        let degrees = |sine: f64, cosine: f64| libm::atan2(sine, cosine).to_degrees().round();
        let level = libm::hypot(part(Way::Right), part(Way::Away));
        let tilt = degrees(part(Way::Up).abs(), level);
        let upright = signed(Way::Up);
        if tilt >= 90.0 {
            return self.says(upright).to_owned();
        }
        let (mut main, mut other) = (signed(Way::Right), signed(Way::Away));
        if part(other) > part(main) {
            std::mem::swap(&mut main, &mut other);
        }
        let (main, other, off) = (self.says(main), self.says(other), degrees(part(other), part(main)));
        let flat = match off {
            ..1.0 => main.to_owned(),
            45.0.. => format!("half-way between {main} and {other}"),
            _ => format!("{main}, {off}° {other}"),
        };
        match tilt {
            ..1.0 => flat,
            45.0 if off < 1.0 => format!("half-way between {main} and {}", self.says(upright)),
            _ => format!("{flat}, {tilt}° {}", self.says(upright)),
        }
    }

    /// A direction turned by some degrees towards a way, no further than that way, to a thousandth.
    pub(crate) fn tilted(self, points: Triple, towards: Way, degrees: f64) -> Triple {
        let way = self.vector(towards);
        let points = points.map(|x| x / norm(points).max(1e-9));
        let along = dot(points, way);
        let across = minus(points, way.map(|x| along * x));
        let size = norm(across);
        // Straight away from that way there is no telling round which side.
        if size < 1e-6 {
            return points;
        }
        let angle = (libm::atan2(size, along) - degrees.to_radians()).max(0.0);
        let turned = plus(way.map(|x| x * libm::cos(angle)), across, libm::sin(angle) / size);
        turned.map(|x| (x * 1000.0).round() / 1000.0 + 0.0)
    }

    /// Half-way between two ways.
    pub(crate) fn half_way(self, one: Way, other: Way) -> Triple {
        self.tilted(self.vector(one), other, 45.0)
    }
}

#[cfg(test)]
#[expect(clippy::float_cmp, reason = "numbers that are exact: whole, or never calculated with")]
mod tests {
    use super::*;

    #[test]
    fn every_stand_is_in_the_table_once() {
        for (stand, row) in Stand::ALL.into_iter().zip(STANDS) {
            assert_eq!((stand, Stand::from_word(stand.word())), (row.0, stand));
        }
    }

    #[test]
    fn right_away_and_up_are_square_and_never_a_mirror_image_while_standing() {
        for stand in Stand::ALL {
            let [r, a, u] = [Way::Right, Way::Away, Way::Up].map(|way| stand.vector(way));
            assert!(dot(r, a).abs() + dot(r, u).abs() + dot(a, u).abs() < 1e-12, "{stand:?}");
            // Right × away is up for who stands and sees the far side above, down for who looks up from below.
            let cross = [r[1] * a[2] - r[2] * a[1], r[2] * a[0] - r[0] * a[2], r[0] * a[1] - r[1] * a[0]];
            let sign = if stand.is_under() { -1.0 } else { 1.0 };
            assert!((dot(cross, u) - sign).abs() < 1e-12, "{stand:?}");
        }
    }

    #[test]
    fn words_at_the_front_are_the_axes_of_the_car() {
        let stand = Stand::Front;
        let b = plus(plus([0.0, 180.0, 0.0], stand.vector(Way::Away), 210.0), UP, 70.0);
        assert_eq!(b, [-210.0, 180.0, 70.0]);
        assert_eq!(stand.steps(b), [(Way::Right, 180.0), (Way::Away, 210.0), (Way::Up, 70.0)]);
        assert_eq!(stand.vector(Way::ToYou), [1.0, 0.0, 0.0]);
        let tilted = stand.tilted(stand.tilted(stand.vector(Way::Right), Way::Up, 15.0), Way::Up, 15.0);
        assert!(norm(minus(tilted, [0.0, 0.866, 0.5])) < 2e-3, "{tilted:?}");
        assert_eq!(stand.direction(tilted), "right, 30° up");
    }

    #[test]
    fn directions_are_read_back_as_they_were_said() {
        let stand = Stand::Left;
        for way in Way::ALL {
            assert_eq!(stand.direction(stand.vector(way)), stand.says(way));
        }
        assert_eq!(stand.direction(stand.half_way(Way::Right, Way::Away)), "half-way between right and away");
        assert_eq!(stand.direction(stand.half_way(Way::ToYou, Way::Down)), "half-way between to you and down");
        let three = stand.tilted(stand.half_way(Way::Left, Way::ToYou), Way::Down, 20.0);
        assert_eq!(stand.direction(three), "half-way between left and to you, 20° down");
    }

    #[test]
    fn a_direction_is_tilted_no_further_than_the_way() {
        let stand = Stand::UnderRear;
        let mut points = stand.vector(Way::Right);
        for _ in 0..40 {
            points = stand.tilted(points, Way::Away, 5.0);
        }
        assert_eq!(points, stand.vector(Way::Away));
        assert_eq!(stand.tilted(points, Way::ToYou, 5.0), points, "no telling which way round");
    }
}
