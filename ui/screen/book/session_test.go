package book_test

import (
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/screen/screentest"
	"bench/oilcan/ui/sheet"
	"bench/oilcan/ui/theme"
)

var sessionPlaces = []screentest.Place{
	{Name: "session-whole", Keys: []string{"4", "/", "closed", "enter", "enter"}},
	{Name: "session-end", Keys: []string{"4", "/", "closed", "enter", "enter", "end"}},
}

// TestSessionFrames: the page of a session in which everything happened that can be on record.
func TestSessionFrames(t *testing.T) { screentest.Frames(t, eventful, sessionPlaces) }

// eventful opens a place from a bench with a session closed two days later, by another hand.
func eventful(t testing.TB, w, h int, p screentest.Place, o theme.Options) *screentest.Desk {
	t.Helper()
	d := screentest.New(t, w, h, true, o)
	from := screentest.Now.AddDate(0, 0, -3)
	es, err := d.S.Append(model.Action{At: from, By: "LN", Machine: "m1", Ordinal: 1,
		Facts: []model.Fact{{Kind: model.KindBegun, Begun: &model.Begun{Title: "care session"}}}})
	if err != nil {
		t.Fatal(err)
	}
	ordinal := 1
	add := func(minute int, by string, facts ...model.Fact) {
		a := model.Action{At: from.Add(time.Duration(minute) * time.Minute), By: by, Machine: "m1",
			Session: es[0].Session, Ordinal: ordinal + 1, Facts: facts}
		for _, f := range facts {
			if model.ClassOf(f.Kind) != model.Dated {
				ordinal++
			}
		}
		if _, err := d.S.Append(a); err != nil {
			t.Fatal(err)
		}
	}
	walked := func(x model.Walked) model.Fact { return model.Fact{Kind: model.KindWalk, Walk: &x} }
	value := func(v float64) model.Fact {
		return model.Fact{Kind: model.KindValue, Value: &model.Measured{Name: "belt left", Value: v,
			Unit: "Hz"}}
	}
	n := func(v float64) *float64 { return &v }
	add(1, "LN", walked(model.Walked{What: "said", Variable: "power", Answer: "on"}),
		walked(model.Walked{What: "said", Variable: "heat", Answer: "cold", Number: n(24),
			Unit: "°C"}))
	add(2, "LN", walked(model.Walked{What: "planned"}))
	blade := func(x model.Walked) model.Fact {
		x.ID, x.Block = "blade-check", 1
		return walked(x)
	}
	belts := func(x model.Walked) model.Fact {
		x.ID, x.Block = "belts-reset", 2
		return walked(x)
	}
	add(4, "LN", blade(model.Walked{What: "refused", Step: "arm", Answer: "12",
		Why: "It must be 2."}))
	add(5, "LN", blade(model.Walked{What: "passed", Step: "arm", Answer: "springs back",
		How: "page"}))
	add(6, "LN", blade(model.Walked{What: "wait", Step: "shed", Until: from.Add(20 * time.Minute)}))
	add(9, "LN", blade(model.Walked{What: "cut", Step: "shed", Why: "read cold"}))
	add(12, "LN", blade(model.Walked{What: "passed", Step: "judge", Answer: "worn"}),
		model.Fact{Kind: model.KindSwap, Swap: &model.Swapped{Part: "blade", End: "worn",
			Lot: "B7"}},
		model.Fact{Kind: model.KindStock, Stock: &model.StockMove{Part: "blade", Change: -1,
			Why: "used"}},
		model.Fact{Kind: model.KindCare, Care: &model.CareDone{Procedure: "blade-check",
			Outcome: "done", Found: "late"}})
	add(13, "LN", belts(model.Walked{What: "passed", Step: "hz", Number: n(98), Unit: "Hz"}),
		value(98))
	add(20, "LN", belts(model.Walked{What: "passed", Step: "hz-left", Number: n(110), Unit: "Hz",
		How: "line"}), value(110))
	add(21, "LN", belts(model.Walked{What: "noted", Step: "snug", Answer: "one screw is new"}))
	add(22, "LN", belts(model.Walked{What: "missed", Step: "seal", Answer: "torn", Then: "part",
		Why: "It is torn."}), model.Fact{Kind: model.KindFinding,
		Finding: &model.Found{Kind: "part",
			Text: "belt frayed at the clamp", Part: "belt", Again: from.AddDate(0, 0, 9)}})
	add(23, "LN", belts(model.Walked{What: "paused", Why: "lunch"}))
	add(2880, "KB", belts(model.Walked{What: "resumed"}))
	add(2881, "KB", belts(model.Walked{What: "passed", Step: "plugs", Answer: "out", Auto: true,
		How: "known", Why: "plugs out: answered at 09:20"}))
	add(2882, "KB", belts(model.Walked{What: "skipped", Step: "central", Why: "no mirror"}),
		model.Fact{Kind: model.KindFinding, Finding: &model.Found{Kind: "owed",
			Text: "belts heard under power", Again: from.AddDate(0, 0, 4)}})
	add(2885, "KB", model.Fact{Kind: model.KindClosed, Closed: &model.Closed{
		State: "ready with limits", Why: "the belt waits", Hands: 31, Waited: 4,
		Stood:  model.Condition{"filament": "loaded", "cover": "on", "door": "closed"},
		Ledger: model.Ledger{Out: map[string]int{"cover screws": 2}}}})
	d.Look()
	return d.Keys(p.Keys...)
}

// TestSessionDropsWhatIsStale: what an older reading gave does not come over what is shown.
func TestSessionDropsWhatIsStale(t *testing.T) {
	d := eventful(t, 80, 24, sessionPlaces[0], theme.Options{Dark: true})
	d.Send(screen.Result{Screen: d.R.Top().ID(), Value: sheet.Doc{Title: "as it was before"}})
	d.Hides("as it was before")
	d.Shows("care session")
}
