// Package rooms knows every screen, and makes the one of a place: the one table of them.
package rooms

import (
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/screen/bench"
	"bench/oilcan/ui/screen/book"
	"bench/oilcan/ui/screen/drawer"
	"bench/oilcan/ui/screen/figures"
	"bench/oilcan/ui/screen/findings"
	"bench/oilcan/ui/screen/lives"
	"bench/oilcan/ui/screen/machine"
	"bench/oilcan/ui/screen/materials"
	"bench/oilcan/ui/screen/measure"
	"bench/oilcan/ui/screen/meters"
	"bench/oilcan/ui/screen/plan"
	"bench/oilcan/ui/screen/printfile"
	"bench/oilcan/ui/screen/symptom"
	"bench/oilcan/ui/screen/walk"
)

// Open makes the screen of a place, nil where there is none.
func Open(e *screen.Env, to any) screen.Screen {
	switch to := to.(type) {
	case screen.ToBench:
		return bench.New(e)
	case screen.ToMachine:
		return machine.New(e, to.Machine)
	case screen.ToMachineForm:
		return machine.NewForm(e, to.Machine)
	case screen.ToCareList:
		return machine.NewCareList(e, to.Machine)
	case screen.ToClearTag:
		return machine.NewClearTag(e, to.Machine)
	case screen.ToRetire:
		return machine.NewRetire(e, to.Machine)
	case screen.ToMeters:
		return meters.New(e, to.Machine)
	case screen.ToFigures:
		return figures.New(e, to.Machine)
	case screen.ToFindings:
		return findings.New(e, to.Machine)
	case screen.ToLives:
		return lives.New(e, to.Machine)
	case screen.ToBook:
		return book.New(e, to.Machine)
	case screen.ToSession:
		return book.NewSession(e, to.Session)
	case screen.ToPrintFile:
		return printfile.New(e, to.Machine)
	case screen.ToSymptom:
		return symptom.New(e, e.Desk, to)
	case screen.ToMeasure:
		return measure.New(e, to.Machine)
	case screen.ToCalculator:
		return measure.NewCalculator(e, to)
	case screen.ToPlan:
		return plan.New(e, e.Desk, to)
	case screen.ToWalk:
		return walk.New(e, e.Desk, to.Session, to.Fresh)
	case screen.ToSummary:
		return walk.NewSummary(e, e.Desk, to.Session)
	case screen.ToDrawer:
		return drawer.New(e)
	case screen.ToMaterials:
		return materials.New(e)
	}
	return nil
}
