package screen

import (
	"slices"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/model/life"
	"bench/oilcan/store"
	"bench/oilcan/ui/theme"
)

// machineMore is what a machine's page shows beyond its snapshot.
type machineMore struct {
	lives    map[string]*partLife
	sessions []endedSession // newest first
}

// partLife is how long a part lasts, by the lives of it on the whole bench.
type partLife struct {
	part     string
	band     life.PartBand
	observed []life.Observed
	life     life.Lifetime
}

// endedSession is a session that was closed or given up.
type endedSession struct {
	title string
	at    time.Time
	end   model.Closed
}

// sessionsShown is how many of the last sessions a machine's page names.
const sessionsShown = 5

// readMore reads it in a command. It answers beside Base.Read, whose last answer the swap line waits for.
func readMore(b *Base, machine string) tea.Cmd {
	id, data, e := b.id, b.Data, b.Env
	return func() tea.Msg {
		more := machineMore{lives: livesOn(data, e.Library.All(), machine)}
		r := Result{Screen: id, Request: -1}
		entries, err := e.Store.Entries(store.Filter{Machine: machine, Kinds: []model.EntryKind{model.KindBegun, model.KindClosed}})
		if err != nil {
			r.Err = err
			return r
		}
		more.sessions = ended(entries)
		r.Value = more
		return r
	}
}

// livesOn tells of every part of a machine how long it lasts.
func livesOn(d *Data, procs []*model.Procedure, machine string) map[string]*partLife {
	m := d.Machine(machine)
	if m == nil {
		return nil
	}
	var ms []*model.Machine
	for _, id := range sortedNames(d.Bench.Machines) {
		ms = append(ms, d.Bench.Machines[id])
	}
	out := map[string]*partLife{}
	for part := range m.Parts {
		band, ok := life.BandOf(m, procs, part)
		if !ok {
			continue
		}
		p := &partLife{part: part, band: band, observed: life.Observe(ms, part, band.Meter, d.At)}
		p.life = life.NewLifetime(p.observed, band.Band)
		out[part] = p
	}
	return out
}

// short is a part's life in half a sentence, beside since when it is in.
func (p *partLife) short() string {
	unit := p.band.Meter.Unit()
	half := model.Number(float64(int(p.life.Life.Life(0.5) + 0.5)))
	if p.life.Ends == 0 { // what still lasts tells less than the rule
		return "Rule of thumb " + model.Number(p.band.Low) + "–" + model.Number(p.band.High) + " " + unit
	}
	return "Half last " + half + " " + unit + ", by " + p.life.By
}

// ended are the last sessions among entries that begin and close some.
func ended(entries []model.Entry) []endedSession {
	titles := map[string]string{}
	var out []endedSession
	for _, e := range entries {
		switch {
		case e.Begun != nil:
			titles[e.Session] = e.Begun.Title
		case e.Closed != nil:
			out = append(out, endedSession{titles[e.Session], e.At, *e.Closed})
		}
	}
	slices.SortStableFunc(out, func(x, y endedSession) int { return y.at.Compare(x.at) })
	return out[:min(len(out), sessionsShown)]
}

// sessionLines are the last sessions, newest first.
func (s *machine) sessionLines() []string {
	var out []string
	for _, x := range s.more.sessions {
		text := s.day(x.at) + "  " + theme.Safe(x.title)
		switch {
		case x.end.Stopped:
			text += ", stopped"
		case x.end.GivenUp:
			text += ", given up"
		case x.end.State != "":
			text += ", " + theme.Safe(x.end.State)
		}
		if x.end.Why != "" {
			text += ": " + theme.Safe(x.end.Why)
		}
		if x.end.Hands > 0 {
			text += ", hands " + itoa(int(x.end.Hands+0.5)) + " min"
		}
		out = append(out, text)
	}
	return out
}

// useMonths is how far back the plot of use reaches.
const useMonths = 12

// useLines draw how much each counter grew, month by month.
func (s *machine) useLines(m *model.Machine) []string {
	t := s.Env.Theme
	var out []string
	now, word := s.Now, "use"
	first := time.Date(now.Year(), now.Month(), 1, 0, 0, 0, 0, now.Location()).AddDate(0, 1-useMonths, 0)
	for _, k := range model.TypedMeters {
		x := m.Readings[k]
		if x == nil || x.N < 2 {
			continue
		}
		grown, most := monthly(x, first, now)
		if !(most > 0) {
			continue
		}
		text := t.Plain(t.Pad(k.Unit()+" a month", 18)) + " " + t.Columns(grown) + " most " + model.Number(float64(int(most+0.5)))
		out = append(out, "   "+t.Text.Dim.Text(t.Pad(word, 11))+" "+text)
		word = ""
	}
	if len(out) == 0 {
		return nil
	}
	var axis strings.Builder
	for i := range useMonths {
		axis.WriteString(first.AddDate(0, i, 0).Format("01") + " ")
	}
	return append(out, t.Text.Dim.Text("   "+t.Pad("", 11)+" "+t.Pad(first.Format("2006-01")+" to "+now.Format("2006-01"), 18)+" "+strings.TrimRight(axis.String(), " ")))
}

// monthly is how much a counter grew in each month from the first; a month before its first reading is
// below nothing.
func monthly(x *model.Series, first, now time.Time) (grown []float64, most float64) {
	for i := range useMonths {
		from, to := first.AddDate(0, i, 0), first.AddDate(0, i+1, 0)
		if to.After(now) {
			to = now
		}
		b, ok := x.At(to)
		if !ok {
			grown = append(grown, -1)
			continue
		}
		a, ok := x.At(from)
		if !ok {
			a = x.First.Value
		}
		grown = append(grown, max(0, b-a))
		most = max(most, b-a)
	}
	return grown, most
}
