//! What the sampled seasons say of a camera.

use serde::ser::SerializeMap;
use serde::{Serialize, Serializer};
use time::Date;

use crate::answer::document::{IsoDate, Rounded};
use crate::answer::ends::{HALF, NINE_TENTHS, TENTH, night_ends, upload_ends};
use crate::line::{Camera, Season};
use crate::odds::{Ends, Lost, Odds};

/// Days by which a tenth, half and nine tenths of the seasons have seen an end; `None` beyond the season.
#[derive(Clone, Copy, Debug, Default, PartialEq)]
pub struct Quantiles {
    /// A tenth.
    pub p10: Option<f64>,
    /// Half.
    pub p50: Option<f64>,
    /// Nine tenths.
    pub p90: Option<f64>,
}

impl Quantiles {
    fn of(ends: &Ends) -> Self {
        let [p10, p50, p90] = [TENTH, HALF, NINE_TENTHS].map(|share| ends.days_at(share));
        Self { p10, p50, p90 }
    }
}

/// Shares and days out of the sampled seasons, as keys beside those of the path.
#[derive(Clone, Debug, PartialEq)]
pub struct CameraOdds {
    /// Days to its end.
    pub days: Quantiles,
    /// Days to the end of night pictures; none where there is no flash.
    pub night_pictures_days: Option<Quantiles>,
    /// Days to the first upload that fails; none where nothing is sent.
    pub uploads_days: Option<Quantiles>,
    /// Days until the card is full.
    pub card_full_days: Quantiles,
    /// Days to the first loss of pictures.
    pub record_days: Quantiles,
    /// Share that it outlives.
    pub alive_at_end: f64,
    /// Share in which nothing is lost.
    pub record_whole_at_end: f64,
    /// Triggers answered, mean.
    pub triggers: f64,
    /// Share of the charge left at the end, mean.
    pub charge_left: f64,
    /// Shares at the dates that were asked about.
    pub by: Vec<OddsBy>,
}

/// Shares of the seasons at the end of a day.
#[derive(Clone, Copy, Debug, PartialEq, Serialize)]
pub struct OddsBy {
    /// The day.
    pub date: IsoDate,
    /// In which the camera is alive.
    pub alive: Rounded<4>,
    /// In which it takes night pictures; none where there is no flash.
    pub night_pictures: Option<Rounded<4>>,
    /// In which nothing is lost.
    pub record_whole: Rounded<4>,
}

impl CameraOdds {
    pub(super) fn of(season: &Season, camera: &Camera, odds: &Odds, by: &[Date]) -> Self {
        let night = night_ends(camera, odds);
        let still = |ends: &Ends, days: f64| 1.0 - ends.ended_share(days);
        let all = f64::from(season.days());
        let by = by.iter().map(|date| {
            // To the end of the date.
            let days = f64::from(date.to_julian_day() - season.start.to_julian_day() + 1);
            OddsBy {
                date: IsoDate(*date),
                alive: Rounded(still(&odds.lost[Lost::Camera], days)),
                night_pictures: night.map(|ends| Rounded(still(ends, days))),
                record_whole: Rounded(still(&odds.lost[Lost::Record], days)),
            }
        });
        Self {
            days: Quantiles::of(&odds.lost[Lost::Camera]),
            night_pictures_days: night.map(Quantiles::of),
            uploads_days: upload_ends(camera, odds).map(Quantiles::of),
            card_full_days: Quantiles::of(&odds.lost[Lost::CardRoom]),
            record_days: Quantiles::of(&odds.lost[Lost::Record]),
            alive_at_end: still(&odds.lost[Lost::Camera], all),
            record_whole_at_end: still(&odds.lost[Lost::Record], all),
            triggers: odds.mean.triggers,
            charge_left: odds.mean.charge_left,
            by: by.collect(),
        }
    }
}

impl Serialize for CameraOdds {
    fn serialize<S: Serializer>(&self, serializer: S) -> Result<S::Ok, S::Error> {
        let mut map = serializer.serialize_map(None)?;
        let ends = [
            ("days", Some(self.days)),
            ("night_pictures_days", self.night_pictures_days),
            ("uploads_days", self.uploads_days),
            ("card_full_days", Some(self.card_full_days)),
            ("record_days", Some(self.record_days)),
        ];
        for (name, quantiles) in ends {
            let Quantiles { p10, p50, p90 } = quantiles.unwrap_or_default();
            for (quantile, days) in [("p10", p10), ("p50", p50), ("p90", p90)] {
                map.serialize_entry(&format!("{name}_{quantile}"), &days.map(Rounded::<3>))?;
            }
        }
        map.serialize_entry("odds_alive_at_end", &Rounded::<4>(self.alive_at_end))?;
        let whole = Rounded::<4>(self.record_whole_at_end);
        map.serialize_entry("odds_record_whole_at_end", &whole)?;
        map.serialize_entry("mean_triggers", &Rounded::<1>(self.triggers))?;
        let left = Rounded::<4>(self.charge_left);
        map.serialize_entry("mean_charge_left_fraction", &left)?;
        map.serialize_entry("odds_by", &self.by)?;
        map.end()
    }
}
