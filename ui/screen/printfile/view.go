package printfile

import (
	"errors"
	"path/filepath"
	"strconv"
	"strings"

	"bench/oilcan/model"
	"bench/oilcan/model/job"
	"bench/oilcan/model/verdict"
	"bench/oilcan/ui/printfile"
	"bench/oilcan/ui/screen"
	"bench/oilcan/ui/theme"
)

// foot is what stands at the bottom: the materials being typed, or why the print may be counted
// already.
func (s *page) foot() []string {
	t := s.Env.Theme
	if s.leaving {
		return []string{screen.LeaveLine(t, screen.Unsaved, s.W)}
	}
	if s.doubt != "" {
		return screen.Wrapped(t, " ", theme.Safe(s.doubt+"."), s.W-3, t.State.Due)
	}
	label, hint := "loaded", "PLA, or 0=PLA,1=PA-CF by tool"
	switch {
	case s.timing:
		label, hint = "it took", "from start to end, like 3 h 40"
	case !s.typing:
		return nil
	}
	typed := screen.Fit(t, " "+label+"  "+t.Text.Accent.Text(t.Plain(s.line.Drawn(0)))+"   "+
		t.Text.Dim.Text(hint), s.W)
	return append([]string{typed}, screen.Wrapped(t, " ", s.bad, s.W-3, t.State.Due)...)
}

func (s *page) draw() {
	if s.Data == nil || s.W == 0 || s.jobs == nil {
		return
	}
	lines := s.against()
	for i := range s.results {
		if i > 0 {
			lines = append(lines, "", " "+s.Env.Theme.Text.Strong.Text(theme.Safe(s.jobs[i].Name)))
		}
		lines = append(lines, s.doubts(i)...)
		lines = append(lines, s.answer(i)...)
		lines = append(lines, s.table(&s.results[i])...)
		lines = append(lines, s.cost(i)...)
	}
	lines = append(lines, s.ending()...)
	for i, l := range lines {
		lines[i] = screen.Fit(s.Env.Theme, l, s.W)
	}
	s.Fill(lines, s.H-len(screen.Apart(s.foot(), s.H)))
}

// View draws the path typed, how far reading is, or the verdict.
func (s *page) View() string {
	switch {
	case s.m() == nil:
		return screen.Gone
	case s.reading != nil:
		return strings.Join(screen.Clip(s.progress(), s.H), "\n")
	case s.jobs == nil:
		return strings.Join(screen.Clip(s.chooser(), s.H), "\n")
	}
	foot := screen.Apart(s.foot(), s.H)
	return screen.Over(s.Pager.Lines(s.Env.Theme, s.W), foot, s.H)
}

func (s *page) progress() []string {
	n, size := s.reading.bytes.Load()>>20, s.reading.size.Load()>>20
	t := s.Env.Theme
	out := []string{" " + t.Plain(theme.Safe(filepath.Base(s.path.Text))), ""}
	if size == 0 {
		return append(out, " reading, "+strconv.Itoa(int(n))+" MiB")
	}
	return append(out, " reading, "+strconv.Itoa(int(n))+" of "+strconv.Itoa(int(size))+" MiB",
		" "+t.Progress(min(40, s.W-2), float64(n)/float64(size)))
}

// chooser is the path being typed, and the names in its folder.
func (s *page) chooser() []string {
	t := s.Env.Theme
	out := []string{" Which file is to be printed? Its path:", "",
		" > " + s.path.DrawnAmong(t, s.W-9, []string{s.completed()}), ""}
	why := s.why
	if dir, _ := s.folder(); why == "" && dir == s.dir {
		why = s.lost
	}
	out = append(out, screen.Wrapped(t, " ", why, s.W-3, t.State.Due)...)
	names := s.matching()
	room := s.H - len(out)
	for i, n := range names {
		if i == room-1 && len(names) > room {
			return append(out, t.Text.Dim.Text("   and "+strconv.Itoa(len(names)-i)+
				" more: type on"))
		}
		out = append(out, screen.Fit(t, "   "+t.Plain(theme.Safe(n)), s.W))
	}
	if len(names) == 0 && why == "" && s.dir != "" {
		out = append(out, t.Text.Dim.Text("   no print file here by that name; a folder ends in /"))
	}
	return out
}

// against is what speaks against the print before any gauge does.
func (s *page) against() []string {
	t := s.Env.Theme
	var out []string
	for _, x := range printfile.Bars(s.m(), s.alone, s.Now) {
		out = append(out, screen.Wrapped(t, " ", x.Text, s.W-2, t.OfState(x.State))...)
	}
	return out
}

// doubts are why figures cannot be right, or the print cannot run here.
func (s *page) doubts(i int) []string {
	t := s.Env.Theme
	var out []string
	for _, d := range s.jobs[i].Doubts(s.m()) {
		for n, l := range theme.Wrap(t.Plain(theme.Safe(d)), max(20, s.W-4)) {
			lead := " ! "
			if n > 0 {
				lead = "   "
			}
			out = append(out, t.State.Due.Text(lead+l))
		}
	}
	return out
}

// ending is what is said of all prints: what they cost together, how long it took, what is known of
// the machine's times.
func (s *page) ending() []string {
	t := s.Env.Theme
	var out []string
	say := func(text string, paint theme.Paint) {
		out = append(out, screen.Wrapped(t, "   ", theme.Safe(text), s.W-4, paint)...)
	}
	for n, l := range printfile.Sum(s.jobs, printfile.Hot) {
		if n == 0 {
			out = append(out, "")
		}
		say(strings.TrimSpace(l), theme.Paint{})
	}
	if s.took > 0 {
		say("it took "+printfile.Span(s.took)+": 1 records that too", t.Text.Strong)
	}
	if text := printfile.LearnedText(job.Learn(s.m())); text != "" {
		say(text, t.Text.Dim)
	}
	return out
}

// answer is the verdict in a sentence.
func (s *page) answer(i int) []string {
	t := s.Env.Theme
	var before, after []string
	past := false
	for _, r := range s.results[i].Rows {
		switch r.Swap {
		case verdict.Before:
			before = append(before, r.Gauge.Short)
			past = past || r.Word == verdict.Past
		case verdict.After:
			after = append(after, r.Gauge.Short)
		}
	}
	paint := t.State.Due
	if past {
		paint = t.State.Past
	}
	var out []string
	say := func(text string, paint theme.Paint) {
		out = append(out, screen.Wrapped(t, " ", theme.Safe(text), s.W-2, paint)...)
	}
	switch {
	case len(before) > 0:
		say("Before it: "+some(before)+".", paint)
	case len(after) > 0:
		first := "It can go first; after it: "
		if s.m().Tag != nil {
			first = "After it: "
		}
		say(first+some(after)+".", t.Text.Strong)
	case len(verdict.Shown(s.results[i].Rows)) == 0:
		text, toSay := printfile.Nothing(s.results[i].Rows, s.m().Name)
		if toSay {
			text += ": type its counters (m on the bench), and when care was last done (2 on its page)"
		}
		say(screen.Sentence(errors.New(text)), t.Text.Strong)
	default:
		say("All that is counted lasts through it.", t.Text.Strong)
	}
	if len(before) > 0 && len(after) > 0 {
		say("After it: "+some(after)+".", theme.Paint{})
	}
	if i == 0 {
		for _, l := range printfile.Spares(s.results, s.Data.Bench.Drawer) {
			say(l+".", t.State.Due)
		}
	}
	return append(out, "")
}

// some lists names, the first few.
func some(names []string) string {
	const most = 5
	if n := len(names) - most; n > 0 {
		return strings.Join(names[:most], "; ") + " and " + strconv.Itoa(n) + " more"
	}
	return strings.Join(names, "; ")
}

// table sets each gauge in a line, and what is to be said of it below.
func (s *page) table(r *verdict.Result) []string {
	t := s.Env.Theme
	name, band := 18, 20
	if s.W >= 80 {
		name = 20
	}
	if s.W >= 100 {
		name, band = 30, 22
	}
	wide := s.W >= 76
	line := func(a, now, this, after, of, word string) string {
		if !wide {
			return "   " + t.Pad(a, 17) + " " + t.PadLeft(after, 6) + " " + word
		}
		return "   " + t.Pad(a, name) + t.PadLeft(now, 7) + t.PadLeft(this, 7) +
			t.PadLeft(after, 7) + " " + t.Pad(of, band) + " " + word
	}
	rows := verdict.Shown(r.Rows)
	var out []string
	if len(rows) > 0 {
		out = append(out, t.Text.Dim.Text(
			strings.TrimRight(line("", "now", "this", "after", "band", ""), " ")))
	}
	for i := range rows {
		c := printfile.Cells(&rows[i])
		out = append(out, line(t.Plain(theme.Safe(c.Name)), c.Before, c.Need, c.After,
			t.Plain(c.Band), t.OfState(c.State).Text(c.Word)))
		out = append(out,
			screen.Wrapped(t, "     ", theme.Safe(c.Note), s.W-6, theme.Paint{})...)
	}
	foot := printfile.Legend(rows)
	for _, u := range printfile.Unknown(r.Rows) {
		foot = append(foot, "unknown, "+u)
	}
	for _, u := range foot {
		out = append(out, screen.Wrapped(t, "   ", theme.Safe(u), s.W-4, t.Text.Dim)...)
	}
	return append(out, "")
}

// cost is what the print costs, as the command says it.
func (s *page) cost(i int) []string {
	t := s.Env.Theme
	var out []string
	for n, l := range printfile.Cost(&s.jobs[i], printfile.Hot) {
		if n == 0 {
			_, l, _ = strings.Cut(l, printfile.Gap)
		}
		out = append(out, screen.Wrapped(t, "   ", theme.Safe(strings.TrimSpace(l)), s.W-4,
			theme.Paint{})...)
		if m := s.m(); n == 0 && len(m.Booked) > 0 {
			out = append(out, "   "+bookedText(m))
		}
	}
	return out
}

// bookedText says what is booked on a machine.
func bookedText(m *model.Machine) string {
	use := m.BookedUse()
	text := strconv.Itoa(len(m.Booked)) + " prints are booked"
	if len(m.Booked) == 1 {
		text = "1 print is booked"
	}
	return text + ", " + model.Changes.Amount(use[model.Changes]) + ", " +
		model.Hours.Amount(use[model.Hours]) + ": not counted here"
}
