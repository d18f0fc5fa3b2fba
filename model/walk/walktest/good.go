package walktest

import (
	"math"
	"strconv"
	"strings"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
)

// Good is an answer that passes a prompt.
func Good(w *walk.Walk, c walk.Context, p walk.Prompt) string {
	switch p.Kind {
	case walk.AskState:
		return goodState(w, p)
	case walk.AskLedger:
		if strings.HasPrefix(p.Item, "flag:") {
			return "ok"
		}
		if p.Against != "" { // it was said to be in its place, or high
			return "0 back"
		}
		if p.Want == 0 && p.Item == "in:"+model.ItemBlocks { // said to stand on blocks
			return "2"
		}
		return strconv.Itoa(p.Want)
	case walk.AskZero:
		if strings.HasPrefix(p.Item, "flag:") {
			return "ok"
		}
		return "0"
	case walk.AskFind:
		return p.Options[0]
	case walk.AskEnd:
		return "worn"
	case walk.AskLack:
		if p.Item == "" {
			return "1"
		}
		return "go on"
	case walk.AskStep:
		return goodStep(w, c, p.Step)
	}
	return "ok"
}

func goodState(w *walk.Walk, p walk.Prompt) string {
	if p.Variable == model.Vapour {
		return "10"
	}
	if p.Variable == model.Heat && w.StoneCold() {
		return "20"
	}
	if p.Variable == model.Heat {
		return "hot"
	}
	if st := w.Step(); st != nil && st.Clock == model.Airing {
		// asked at the airing itself: it is open
		return model.Values[p.Variable][1]
	}
	if p.Variable == model.Power && (len(w.Blocks) > 0 || w.Begun.Locked) {
		if tag := w.Begun.Settings["plug-tag"]; tag != "" {
			return tag
		}
		return "unplugged"
	}
	return asBooked(w.Ledger(), p.Variable)
}

// asBooked says that a machine stands as the book has it: what is out of it is open, and on blocks
// it stands.
func asBooked(l model.Ledger, v model.Variable) string {
	item := map[model.Variable]string{model.Cover: "cover", model.Top: "top panel",
		model.Changer: "changer"}[v]
	switch {
	case v == model.Bed && l.Inside[model.ItemBlocks] > 0:
		return "on blocks"
	case l.Out[item] > 0:
		return model.Values[v][1]
	}
	return model.Values[v][0]
}

func goodStep(w *walk.Walk, c walk.Context, s *model.Step) string {
	switch s.Gate {
	case model.State:
		if w.WantsTag(s) {
			return w.Begun.Settings[model.PlugTag]
		}
		return s.Value
	case model.Measure:
		return goodMeasure(w, c, s)
	case model.Choice:
		if stopped := c.Machine.Stopped(); s.Name == "ready" &&
			(stopped || w.Stopped != "" || w.Begun.Locked) {
			return "out of use"
		}
		if b := w.Block(); b.ID == model.CloseOut && s.Name == "ready" && w.Awaits(c) != "" {
			return "waiting for part"
		}
		if s.Name == "ready" && w.CodeStands() {
			return "limited"
		}
		if s.Name == "ready" && len(w.Owing(c)) > 0 {
			return "checks owed"
		}
		if l := w.Ledger(); s.Name == "ready" && (len(l.LostPieces()) > 0 || len(l.Out) > 0 ||
			len(l.Inside) > 0) {
			return "out of use" // something is still out or lost
		}
		return s.Options[0].Is
	case model.Count:
		return goodCount(w, c, s)
	case model.Note:
		if s.Files != "" || strings.HasPrefix(s.Name, "limit") {
			return "E 12"
		}
		return "-"
	}
	return "ok"
}

func goodMeasure(w *walk.Walk, c walk.Context, s *model.Step) string {
	if s.Meter != "" {
		return goodMeter(c, s.Meter)
	}
	lo, hi := w.Bounds(c)
	switch {
	case lo != nil && hi != nil:
		v := (*lo + *hi) / 2
		if whole := math.Round(v); whole >= *lo && whole <= *hi {
			v = whole // a display is read in whole degrees, hertz and grams
		}
		return model.Digits(v)
	case lo != nil:
		return model.Digits(*lo)
	case hi != nil:
		return model.Digits(*hi)
	}
	if t, _ := model.TemperatureOf(s.Quantity); len(t.Places) > 0 || s.Quantity == "room temperature" {
		return "22" // as the room is
	}
	return "7"
}

func goodMeter(c walk.Context, m model.Meter) string {
	if s := c.Machine.Readings[m]; s != nil {
		return model.Digits(s.Last.Value)
	}
	return "100"
}

func goodCount(w *walk.Walk, c walk.Context, s *model.Step) string {
	if s.Meter != "" {
		return goodMeter(c, s.Meter)
	}
	if n, ok := w.Wanted(); ok {
		return strconv.Itoa(n)
	}
	n := 1
	if s.Min != nil {
		n = *s.Min
	}
	l := w.Ledger() // what is out already is counted with it
	for item := range s.Out {
		n = max(n, l.Out[item])
	}
	for item := range s.In {
		n = max(n, l.Inside[item])
	}
	return strconv.Itoa(n)
}
