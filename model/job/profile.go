package job

import "bench/oilcan/model"

// Axes are values for X, Y, Z and the filament drive, in that order.
type Axes [4]float64

// Profile is what a machine can do where its files do not say. Speeds are mm/s, accelerations
// mm/s². A value of 0 or less means no limit, and for the rates below them: not known.
type Profile struct {
	Speed Axes // highest; M203
	Accel Axes // highest; M201
	Jerk  Axes // change of speed an axis takes at once; M205 X Y Z E

	PrintAccel, RetractAccel, TravelAccel float64 // M204 P R T

	// Deviation, in mm, takes the place of Jerk where it is set: how far a corner would be cut if
	// it were rounded; M205 J.
	Deviation float64

	// Limits tells that Accel holds for X and Y whatever M204 says: it is this machine's own.
	Limits bool

	Feed  float64 // of movement before any F, mm/s
	Tools int     // T words from this number on are service calls; 0: 64

	Room          float64 // degrees Celsius before the first heating
	HotRate       float64 // K/s while waiting for the hot end
	BedRate       float64 // K/s while waiting for the bed
	ChangeSeconds float64 // a filament change by T
}

// maxTools is the most tools a Profile can have, and defaultTools what it has when it does not say.
const (
	maxTools     = 256
	defaultTools = 64
)

// DefaultProfile is an enclosed machine of the common kind, from memory. What heating and changes
// take differs too much between machines to be said.
func DefaultProfile() Profile {
	return Profile{
		Speed:        Axes{300, 300, 15, 45},
		Accel:        Axes{5000, 5000, 300, 5000},
		Jerk:         Axes{9, 9, 3, 3},
		PrintAccel:   5000,
		RetractAccel: 5000,
		TravelAccel:  5000,
		Feed:         25,
		Tools:        defaultTools,
		Room:         25,
	}
}

// ProfileOf is what is on record of a machine, DefaultProfile where nothing is. What was learned of
// its times is not in it: see Learn.
func ProfileOf(m *model.Machine) Profile {
	p := DefaultProfile()
	both := func(name string, to *Axes) bool {
		v := m.PrintSetting(name)
		if v > 0 {
			to[atX], to[atY] = v, v
		}
		return v > 0
	}
	one := func(name string, to *float64) {
		if v := m.PrintSetting(name); v > 0 {
			*to = v
		}
	}
	if p.Limits = both(model.TopAccel, &p.Accel); p.Limits {
		p.PrintAccel, p.TravelAccel = p.Accel[atX], p.Accel[atX]
	}
	both(model.TopSpeed, &p.Speed)
	both(model.Jerk, &p.Jerk)
	one(model.TopAccelZ, &p.Accel[atZ])
	one(model.TopSpeedZ, &p.Speed[atZ])
	one(model.Deviation, &p.Deviation)
	return p
}

func (p Profile) tools() int {
	if p.Tools <= 0 {
		return defaultTools
	}
	return min(p.Tools, maxTools)
}
