package machine

import (
	"slices"
	"strconv"
	"strings"
	"time"

	tea "github.com/charmbracelet/bubbletea"

	"bench/oilcan/model"
	"bench/oilcan/model/figures"
	"bench/oilcan/model/life"
	"bench/oilcan/store"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/theme"
)

// machineMore is what a machine's page shows beyond its snapshot.
type machineMore struct {
	runs     runs
	lives    map[string]*screen.PartLife
	sessions []endedSession // newest first
	learned  []life.Learned
}

// endedSession is a session that was closed or given up.
type endedSession struct {
	title string
	at    time.Time
	end   model.Closed
}

// sessionsShown is how many of the last sessions a machine's page names.
const sessionsShown = 5

// readMore reads it in a command. It answers beside Base.Read, whose last answer the swap line
// waits for.
func readMore(b *screen.Base, machine string) tea.Cmd {
	id, data, e, now := b.ID(), b.Data, b.Env, b.Now
	return func() tea.Msg {
		more := machineMore{lives: screen.LivesOn(data, e.Library.All(), machine)}
		if m := data.Machine(machine); m != nil {
			more.learned = life.LearnOn(m, e.Library.Heads(), now)
		}
		r := screen.Result{Screen: id, Request: -1}
		entries, err := e.Store.Entries(store.Filter{Machine: machine,
			Kinds: []model.EntryKind{model.KindBegun, model.KindClosed, model.KindValue,
				model.KindStrike}})
		if err != nil {
			r.Err = err
			return r
		}
		more.sessions, more.runs = ended(entries), runsOf(entries)
		r.Value = more
		return r
	}
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
			text += ", hands " + strconv.Itoa(int(x.end.Hands+0.5)) + " min"
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
	first := time.Date(now.Year(), now.Month(), 1, 0, 0, 0, 0, now.Location()).AddDate(0,
		1-useMonths, 0)
	for _, k := range model.TypedMeters {
		x := m.Readings[k]
		if x == nil || x.N < 2 {
			continue
		}
		grown, most := monthly(x, first, now)
		if !(most > 0) {
			continue
		}
		text := t.Plain(t.Pad(k.Unit()+" a month", 18)) + " " + t.Columns(grown) + " most " +
			model.Number(float64(int(most+0.5)))
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
	return append(out, t.Text.Dim.Text("   "+t.Pad("", 11)+" "+
		t.Pad(first.Format("2006-01")+" to "+now.Format("2006-01"), 18)+" "+
		strings.TrimRight(axis.String(), " ")))
}

// monthly is how much a counter grew in each month from the first; a month before its first reading
// is below nothing.
func monthly(x *model.Series, first, now time.Time) (grown []float64, most float64) {
	for i := range useMonths {
		from, to := first.AddDate(0, i, 0), first.AddDate(0, i+1, 0)
		n, ok := figures.Grown(x, from, to, now)
		if !ok {
			n = -1
		}
		grown = append(grown, n)
		most = max(most, n)
	}
	return grown, most
}
