//! The values of a saved gauge in their order, for its reading as for its writing.
//!
//! They are in the blob's encoding. The numbers were worked out and are no short decimals, so each is
//! written as its eight bytes.

use super::belief::Belief;
use super::saved::Saved;
use crate::cell::{CellState, Wells};
use crate::decimal::PLAIN;
use crate::harvest::StoreState;
use crate::pack::PackState;
use crate::range::Quantity as Of;
use crate::reader::Reader;
use crate::season::CameraState;
use crate::units::{Energy, Temperature};

/// What values are read from, or written to.
pub(super) trait Stream {
    fn whole(&mut self, value: &mut u32);
    fn mark(&mut self, value: &mut bool);
    fn number(&mut self, value: &mut f64, what: Of);
}

/// Every value of `saved`. By a table of functions, so that a device holds this once.
#[inline(never)]
pub(super) fn pass(stream: &mut dyn Stream, saved: &mut Saved) {
    let Saved {
        blob_checksum,
        saves,
        hour,
        camera:
            CameraState {
                cells: PackState { ordinary, weakest },
                store,
                warmth,
                waiting_pictures,
                card_mb,
                after,
            },
        belief:
            Belief {
                sd,
                news,
                unread,
                doubted,
            },
    } = saved;
    for whole in [blob_checksum, saves, hour] {
        stream.whole(whole);
    }
    for cell in [ordinary, weakest] {
        let CellState {
            wells: Wells { available, bound },
            polarisation,
            age,
        } = cell;
        stream.number(available.si_mut(), Of::SavedAvailable);
        stream.number(bound.si_mut(), Of::SavedBound);
        for volts in &mut polarisation.0 {
            stream.number(volts.si_mut(), Of::SavedPolarisation);
        }
        stream.number(age.si_mut(), Of::SavedAge);
    }
    if let Some(StoreState { held, pack }) = if_any(stream, store, NO_STORE) {
        stream.number(held.si_mut(), Of::InTheStore);
        stream.number(pack.si_mut(), Of::SavedStore);
    }
    if let Some(warmth) = if_any(stream, warmth, NO_WARMTH) {
        stream.number(warmth.si_mut(), Of::SavedPack);
    }
    stream.number(waiting_pictures, Of::Waiting);
    stream.number(card_mb, Of::OnTheCard);
    stream.number(after.si_mut(), Of::SavedTime);
    stream.number(sd, Of::DepthSpread);
    stream.number(news, Of::News);
    stream.mark(unread);
    stream.mark(doubted);
}

const NO_WARMTH: Temperature = Temperature::from_kelvin(0.0);

const NO_STORE: StoreState = StoreState {
    held: Energy::ZERO,
    pack: NO_WARMTH,
};

/// What there may be: to be written as it is, or read in place of `blank`.
fn if_any<'p, T>(stream: &mut dyn Stream, place: &'p mut Option<T>, blank: T) -> Option<&'p mut T> {
    let mut there = place.is_some();
    stream.mark(&mut there);
    if there {
        let _ = place.get_or_insert(blank);
    } else {
        *place = None;
    }
    place.as_mut()
}

impl Stream for Reader<'_> {
    fn whole(&mut self, value: &mut u32) {
        *value = Reader::whole(self);
    }

    fn mark(&mut self, value: &mut bool) {
        *value = Reader::mark(self);
    }

    fn number(&mut self, value: &mut f64, what: Of) {
        Reader::number(self, value, what);
    }
}

/// Bytes that are being written.
pub(super) struct Writer<'a> {
    place: &'a mut [u8],
    written: usize,
}

impl<'a> Writer<'a> {
    pub(super) const fn new(place: &'a mut [u8]) -> Self {
        Self { place, written: 0 }
    }

    /// How many were written, if there was room for them all.
    pub(super) fn written(&self) -> Option<usize> {
        (self.written <= self.place.len()).then_some(self.written)
    }

    #[inline(never)]
    fn byte(&mut self, byte: u8) {
        if let Some(place) = self.place.get_mut(self.written) {
            *place = byte;
        }
        self.written += 1;
    }
}

impl Stream for Writer<'_> {
    fn whole(&mut self, value: &mut u32) {
        let mut left = *value;
        while left >= 0x80 {
            self.byte(left as u8 | 0x80);
            left >>= 7;
        }
        self.byte(left as u8);
    }

    fn mark(&mut self, value: &mut bool) {
        self.byte(u8::from(*value));
    }

    fn number(&mut self, value: &mut f64, _: Of) {
        self.byte(PLAIN);
        for byte in value.to_le_bytes() {
            self.byte(byte);
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::circuit::Polarisation;
    use crate::gauge::MOST_SAVED_BYTES;
    use crate::units::{Charge, Time, Voltage};
    use proptest::prelude::*;

    prop_compose! {
        fn cell()(
            available in -10.0..10.0_f64,
            bound in -10.0..10.0_f64,
            volts in [-1.0..1.0_f64, -1.0..1.0_f64],
            age_s in 0.0..1e9_f64,
        ) -> CellState {
            CellState {
                wells: Wells {
                    available: Charge::from_coulombs(available),
                    bound: Charge::from_coulombs(bound),
                },
                polarisation: Polarisation(volts.map(Voltage::from_volts)),
                age: Time::from_seconds(age_s),
            }
        }
    }

    prop_compose! {
        fn saved()(
            (blob_checksum, saves, hour) in (any::<u32>(), any::<u32>(), any::<u32>()),
            (ordinary, weakest) in (cell(), cell()),
            store in prop::option::of((0.0..1e5_f64, 200.0..300.0_f64)),
            warmth in prop::option::of(200.0..300.0_f64),
            (waiting_pictures, card_mb, hours) in (0.0..99.0_f64, 0.0..1e5_f64, 0.0..9999.0_f64),
            (sd, news) in (0.001..0.3_f64, 0.001..1.0_f64),
            (unread, doubted) in any::<(bool, bool)>(),
        ) -> Saved {
            Saved {
                blob_checksum,
                saves,
                hour,
                camera: CameraState {
                    cells: PackState { ordinary, weakest },
                    store: store.map(|(joules, kelvin)| StoreState {
                        held: Energy::from_joules(joules),
                        pack: Temperature::from_kelvin(kelvin),
                    }),
                    warmth: warmth.map(Temperature::from_kelvin),
                    waiting_pictures,
                    card_mb,
                    after: Time::from_hours(hours),
                },
                belief: Belief { sd, news, unread, doubted },
            }
        }
    }

    proptest! {
        /// By its own reader, and by what serde derives for its types.
        #[test]
        fn what_is_written_is_read(saved in saved(), mut place in saved()) {
            let mut buffer = [0; MOST_SAVED_BYTES];
            let mut writer = Writer::new(&mut buffer);
            pass(&mut writer, &mut saved.clone());
            let length = writer.written().unwrap();
            let mut reader = Reader::new(&buffer[..length]);
            pass(&mut reader, &mut place);
            prop_assert!(matches!(reader.end(), (None, 0)));
            prop_assert_eq!(place, saved);
            prop_assert_eq!(postcard::from_bytes(&buffer[..length]), Ok(saved));
        }

        #[test]
        fn what_has_no_room_is_not_written(saved in saved(), room in 0..100_usize) {
            let mut buffer = [0; 100];
            let mut writer = Writer::new(&mut buffer[..room]);
            pass(&mut writer, &mut saved.clone());
            prop_assert_eq!(writer.written(), None);
        }
    }
}
