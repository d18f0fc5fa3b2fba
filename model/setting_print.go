package model

import "strings"

// Names of the settings that say how a machine prints: what a print file does not say.
const (
	TopAccel     = "top-accel"
	TopAccelZ    = "top-accel-z"
	TopSpeed     = "top-speed"
	TopSpeedZ    = "top-speed-z"
	Jerk         = "jerk"
	Deviation    = "junction-deviation"
	NozzleBore   = "nozzle-bore"
	FilamentSize = "filament-size"
	ChangeTime   = "change-time"
	StartTime    = "start-time"
)

// PrintSettings are those settings, in the order they are asked in. No procedure asks for them.
var PrintSettings = []Setting{
	{Name: NozzleBore, Ask: "The bore of its nozzle, in mm.", Number: true, Unit: "mm"},
	{Name: FilamentSize, Title: "filament diameter", Ask: "In mm: 1.75 where nothing is said.",
		Number: true, Unit: "mm"},
	{
		Name:   ChangeTime,
		Title:  "a filament change",
		Ask:    "What a change by the changer takes, in seconds.",
		Number: true,
		Unit:   "s",
	},
	{
		Name:   StartTime,
		Title:  "start and heating",
		Ask:    "From start to the first line: heating, homing, levelling, in minutes.",
		Number: true,
		Unit:   "min",
	},
	{
		Name:   TopAccel,
		Title:  "X, Y acceleration",
		Ask:    "The most it takes, in mm/s²; as its settings say.",
		Number: true,
		Unit:   "mm/s²",
	},
	{
		Name:   TopAccelZ,
		Title:  "Z acceleration",
		Ask:    "The most it takes, in mm/s².",
		Number: true,
		Unit:   "mm/s²",
	},
	{Name: TopSpeed, Title: "X, Y top speed", Ask: "In mm/s; as its settings say.",
		Number: true, Unit: "mm/s"},
	{Name: TopSpeedZ, Title: "Z top speed", Ask: "In mm/s.", Number: true, Unit: "mm/s"},
	{Name: Jerk, Title: "X, Y jerk", Ask: "By how much an axis changes its speed at once, in mm/s.",
		Number: true, Unit: "mm/s"},
	{
		Name:   Deviation,
		Ask:    "In place of jerk: how far a corner may be cut, in mm.",
		Number: true,
		Unit:   "mm",
	},
}

// PrintSetting gives how a machine prints, by one of the names above; 0 where it is not on record.
func (f *MachineFact) PrintSetting(name string) float64 {
	v, _ := SettingNumber(f.Settings[name])
	return v
}

// PrintLimits names the settings by which the time of movement is reckoned, with their values:
// times learned under others say nothing.
func (f *MachineFact) PrintLimits() string {
	var out []string
	for _, name := range []string{TopAccel, TopAccelZ, TopSpeed, TopSpeedZ, Jerk, Deviation} {
		if v := f.Settings[name]; v != "" {
			out = append(out, name+"="+v)
		}
	}
	return strings.Join(out, " ")
}
