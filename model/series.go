package model

import (
	"encoding/base64"
	"encoding/binary"
	"encoding/json"
	"errors"
	"math"
	"sort"
	"time"
)

// keptDays is how far back a series keeps one point a day.
const keptDays = 400

// At is the meter's value at a time, running on over replaced counters: linear between readings,
// the last value held after the last one; none before the first. Further back than 400 days only
// the first reading is known.
func (s *Series) At(t time.Time) (float64, bool) {
	if s == nil || s.N == 0 || t.Before(s.First.At) {
		return 0, false
	}
	if !t.Before(s.Last.At) {
		return s.Last.Value, true
	}
	a, b := s.First, s.Last
	i := sort.Search(len(s.Days), func(i int) bool { return s.Days[i].At.After(t) })
	if i > 0 && s.Days[i-1].At.After(a.At) {
		a = s.Days[i-1]
	}
	if i < len(s.Days) && s.Days[i].At.Before(b.At) {
		b = s.Days[i]
	}
	return between(a, b, t), true
}

// Shows is what a counter of a machine last showed on its display, and when; ok is false where it was
// never read.
func (m *Machine) Shows(meter Meter) (p Point, ok bool) {
	s := m.Readings[meter]
	if s == nil || s.N == 0 {
		return p, false
	}
	return Point{s.Last.At, s.Last.Value - s.Offset}, true
}

// between interpolates linearly, never beyond the two points.
func between(a, b Point, t time.Time) float64 {
	span := b.At.Sub(a.At)
	if span <= 0 || !t.Before(b.At) {
		return b.Value
	}
	share := max(0, float64(t.Sub(a.At))/float64(span))
	return a.Value + (b.Value-a.Value)*share
}

// add takes a reading later than all others. Of each calendar day (UTC) the last one stays.
func (s *Series) add(p Point) {
	if s.N == 0 {
		s.First = p
	}
	s.Last = p
	s.N++
	day := Point{At: p.At.UTC().Truncate(time.Minute), Value: math.Floor(p.Value*100) / 100}
	if n := len(s.Days); n > 0 && sameDay(s.Days[n-1].At, day.At) {
		s.Days = s.Days[:n-1]
	}
	s.Days = append(s.Days, day)
	limit := day.At.AddDate(0, 0, -keptDays)
	old := sort.Search(len(s.Days), func(i int) bool { return s.Days[i].At.After(limit) })
	if old > 0 {
		s.Days = append([]Point(nil), s.Days[old:]...)
	}
}

func sameDay(a, b time.Time) bool {
	ay, am, ad := a.UTC().Date()
	by, bm, bd := b.UTC().Date()
	return ay == by && am == bm && ad == bd
}

// packedSeries is how a series is stored: the day points as differences (minutes, hundredths of the
// unit) in variable-length integers, because 400 of them in plain JSON are 18 KB a meter.
type packedSeries struct {
	First  Point   `json:"first"`
	Last   Point   `json:"last"`
	Days   string  `json:"days,omitempty"`
	Offset float64 `json:"offset,omitempty"`
	N      int     `json:"n"`

	Younger bool `json:"younger,omitempty"`
}

// MarshalJSON packs the day points; they are whole minutes and hundredths already, so nothing is
// lost.
func (s *Series) MarshalJSON() ([]byte, error) {
	var raw []byte
	var at, value int64
	for _, p := range s.Days {
		t, v := p.At.Unix()/60, int64(math.Round(p.Value*100))
		raw = binary.AppendVarint(raw, t-at)
		raw = binary.AppendVarint(raw, v-value)
		at, value = t, v
	}
	return json.Marshal(packedSeries{s.First, s.Last, base64.RawStdEncoding.EncodeToString(raw),
		s.Offset, s.N, s.Younger})
}

// UnmarshalJSON reads a series packed by MarshalJSON; minutes and hundredths come back as they
// were.
func (s *Series) UnmarshalJSON(data []byte) error {
	var p packedSeries
	if err := json.Unmarshal(data, &p); err != nil {
		return err
	}
	raw, err := base64.RawStdEncoding.DecodeString(p.Days)
	if err != nil {
		return err
	}
	*s = Series{First: p.First, Last: p.Last, Offset: p.Offset, N: p.N, Younger: p.Younger}
	var at, value int64
	for len(raw) > 0 {
		dt, n := binary.Varint(raw)
		if n <= 0 {
			return errors.New("day points of a meter are cut short")
		}
		dv, m := binary.Varint(raw[n:])
		if m <= 0 {
			return errors.New("day points of a meter are cut short")
		}
		raw = raw[n+m:]
		at, value = at+dt, value+dv
		s.Days = append(s.Days, Point{At: time.Unix(at*60, 0).UTC(), Value: float64(value) / 100})
	}
	return nil
}
