//! Words inside the plot: the spot where they cover the least of what is drawn.

use crate::chart::{Band, Chart};
use crate::labels::Area;
use crate::layout::Layout;
use crate::text::width_em;

/// Words of one or more lines with the area they take.
#[derive(Debug)]
pub(crate) struct Spot {
    pub(crate) lines: Vec<String>,
    pub(crate) area: Area,
}

/// What words in the plot should not cover.
#[derive(Debug)]
pub(crate) struct Drawn {
    lines: Vec<Vec<(f64, f64)>>,
    dots: Vec<(f64, f64)>,
    marks: Vec<f64>,
    bands: Vec<Area>,
    words: Vec<Area>,
    plot: Area,
    gap: f64,
}

impl Drawn {
    pub(crate) fn of(chart: &Chart, frame: &Layout) -> Self {
        Self {
            lines: chart
                .curves
                .iter()
                .map(|c| frame.places(&c.points))
                .collect(),
            dots: chart
                .measured
                .iter()
                .flat_map(|m| frame.places(&m.points))
                .collect(),
            marks: chart.marks.iter().map(|m| frame.x(m.x)).collect(),
            bands: chart.bands.iter().map(|b| frame.band(b)).collect(),
            words: Vec::new(),
            plot: frame.plot,
            gap: frame.font * 0.3,
        }
    }

    /// How much a spot covers: a mark's line least, for it runs on above and below; curves and points
    /// more, for they are what the chart is for; other words most, for it would make them unreadable.
    fn cost(&self, spot: &Area) -> usize {
        let around = Area {
            left: spot.left - self.gap,
            top: spot.top,
            right: spot.right + self.gap,
            bottom: spot.bottom,
        };
        let lines = self
            .lines
            .iter()
            .filter(|l| l.windows(2).any(|w| spot.touched_by(w[0], w[1])))
            .count();
        let dots = self
            .dots
            .iter()
            .filter(|&&d| around.touched_by(d, d))
            .count();
        let marks = self
            .marks
            .iter()
            .filter(|x| (around.left..around.right).contains(x))
            .count();
        let words = self.words.iter().filter(|w| w.overlaps(&around)).count();
        3 * (lines + dots) + marks + 30 * words
    }

    /// The first of the cheapest areas that lie in the plot, or a little above or below it.
    fn take(
        &mut self,
        areas: impl IntoIterator<Item = Area>,
        more: impl Fn(&Self, &Area) -> usize,
    ) -> Option<Area> {
        let plot = self.plot;
        let best = areas
            .into_iter()
            .filter(|a| a.left >= plot.left && a.right <= plot.right)
            .filter(|a| a.top >= plot.top - a.height() && a.bottom <= plot.bottom)
            .map(|a| (self.cost(&a) + more(self, &a), a))
            .reduce(|best, next| if next.0 < best.0 { next } else { best })?;
        self.words.push(best.1);
        Some(best.1)
    }
}

/// The name of a band, in it where there is height enough, else just above or below.
pub(crate) fn in_band(drawn: &mut Drawn, frame: &Layout, band: &Band) -> Option<Spot> {
    let (width, height) = (width_em(&band.name) * frame.font, frame.font * 1.1);
    let name = band.name.clone();
    let band = frame.band(band);
    let tops: Vec<f64> = if band.height() >= height {
        let middle = f64::midpoint(band.top, band.bottom) - height / 2.0;
        vec![middle, band.top, band.bottom - height]
    } else {
        vec![band.top - height - 1.0, band.bottom + 1.0]
    };
    let gap = frame.font * 0.5;
    let free = frame.plot.width() - width - 2.0 * gap;
    let areas = (0..=12_u8).flat_map(|step| {
        let left = frame.plot.left + gap + free * f64::from(step) / 12.0;
        tops.iter().map(move |&top| Area {
            left,
            top,
            right: left + width,
            bottom: top + height,
        })
    });
    let area = drawn.take(areas, |_, _| 0)?;
    Some(Spot {
        lines: vec![name],
        area,
    })
}

/// The name of a curve that ends inside the plot, beside its end.
pub(crate) fn at_end(
    drawn: &mut Drawn,
    frame: &Layout,
    lines: &[String],
    (x, y): (f64, f64),
) -> Option<Spot> {
    let width = lines
        .iter()
        .map(|l| width_em(l) * frame.font)
        .fold(0.0, f64::max);
    let height = lines.len() as f64 * frame.line();
    let gaps = [0.6, 1.4, 2.6].map(|ems| ems * frame.font);
    // Right of the end first, then above and below it, then behind it; farther off as a last resort.
    let inside = frame.plot.right - width;
    let places = gaps.into_iter().flat_map(|gap| {
        let right = (x + gap).min(inside.max(x));
        [
            (right, y - height / 2.0),
            (right, y - height - gap / 2.0),
            (right, y + gap / 2.0),
            (x - width / 2.0, y - height - gap),
            (x - width / 2.0, y + gap),
            (x - width - gap, y - height - gap / 2.0),
            (x - width - gap, y + gap / 2.0),
            (x - width - gap, y - height / 2.0),
        ]
    });
    let areas = places.map(|(left, top)| Area {
        left,
        top,
        right: left + width,
        bottom: top + height,
    });
    // Inside a band the name of a curve would read as the name of the band.
    let area = drawn.take(areas, |drawn, area| {
        2 * drawn.bands.iter().filter(|b| b.overlaps(area)).count()
    })?;
    Some(Spot {
        lines: lines.to_vec(),
        area,
    })
}
