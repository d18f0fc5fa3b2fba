package screen

import (
	"bench/oilcan/model"
	"bench/oilcan/model/measure"
)

// Open opens a screen, in place of the top one where Instead. To is one of the places below;
// Deps.Rooms makes the screen, so that no screen knows another.
type Open struct {
	To      any
	Instead bool
}

// The places a screen may send a person to. Machine and Session are ids.
type (
	// ToBench is the first screen: the machines, what stands open, what to order.
	ToBench struct{}
	// ToMachine is the page of a machine.
	ToMachine struct{ Machine string }
	// ToMachineForm edits a machine, or adds one where Machine is "".
	ToMachineForm struct{ Machine string }
	// ToCareList is what a machine is kept by.
	ToCareList struct{ Machine string }
	// ToClearTag takes the tag off a machine.
	ToClearTag struct{ Machine string }
	// ToRetire takes a machine off the bench for good.
	ToRetire struct{ Machine string }
	// ToMeters takes what a machine's counters show.
	ToMeters struct{ Machine string }
	// ToFindings is what stands on a machine.
	ToFindings struct{ Machine string }
	// ToLives is how long the parts of a machine last.
	ToLives struct{ Machine string }
	// ToBook is the record of a machine, of the whole bench where none is named.
	ToBook struct{ Machine string }
	// ToSession is a session as it is on record.
	ToSession struct{ Session string }
	// ToPrintFile is whether a machine's parts last through a print.
	ToPrintFile struct{ Machine string }
	// ToSymptom goes from what is seen on a machine to the care for it; the id of a symptom is taken
	// as chosen.
	ToSymptom struct{ Machine, Symptom string }
	// ToFigures is what the care of a machine takes, of all machines where Machine is "".
	ToFigures struct{ Machine string }
	// ToMeasure is the calculators of what is measured, on a machine where one is named.
	ToMeasure struct{ Machine string }
	// ToCalculator is one of them, by its id. A gate that asks For gets the answer back as
	// WorkedOut; Said gives what was read in its session.
	ToCalculator struct {
		Machine, By string
		For         *measure.Kept
		Said        func(quantity string) (v float64, unit string, ok bool)
	}
	// ToPlan plans a care session: of what is due, of Only these procedures, or of what is to cure
	// Why.
	ToPlan struct {
		Machine string
		Only    []string
		Why     *model.Complaint
	}
	// ToWalk goes on with a begun session; Fresh where it was begun just now by this program.
	ToWalk struct {
		Session string
		Fresh   bool
	}
	// ToSummary is an ended session on a page.
	ToSummary struct{ Session string }
	// ToDrawer is what is in stock.
	ToDrawer struct{}
	// ToMaterials is the table of polymers.
	ToMaterials struct{}
)

// Opens is the deed of a key that opens a screen.
func Opens(to any) Deed { return Sends(Open{To: to}) }

// CareKey opens the machine's begun session, or plans one.
func CareKey(m *model.Machine) Key {
	if m.Session != "" {
		return On("c", "care", "goes on with the machine's begun session",
			Opens(ToWalk{Session: m.Session}))
	}
	return On("c", "care", "plans a care session for the machine",
		Opens(ToPlan{Machine: m.ID})).When(!m.Retired)
}

// SymptomKey opens the symptoms of a machine.
func SymptomKey(m *model.Machine) Key {
	return On("s", "symptom", "what you see or hear, and the care that is likely to cure it",
		Opens(ToSymptom{Machine: m.ID})).When(!m.Retired)
}
