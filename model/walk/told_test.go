package walk_test

import (
	"encoding/json"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"
	"testing"
	"time"

	"bench/oilcan/model"
	"bench/oilcan/model/walk"
	"bench/oilcan/model/walk/walktest"
)

// onPaper begins the telling of a session that took two hours.
func onPaper(t testing.TB, ids ...string) *walktest.Run {
	t.Helper()
	lib := library(t)
	m := machine(lib, "full")
	r := beginAs(t, lib, m, walk.Start{Told: start.Add(2 * time.Hour)}, ids...)
	r.Now = start.Add(2 * time.Hour)
	return r
}

// tell tells all of it well.
func tell(t testing.TB, r *walktest.Run) {
	t.Helper()
	for range 1000 {
		done, err := r.TellStep()
		if err != nil {
			t.Fatal(err)
		}
		if done {
			return
		}
	}
	t.Fatalf("the telling does not end: %s", r.W.Block().ID)
}

// gaugesOf are the gauges of a machine after a session, all of it at one time.
func gaugesOf(t testing.TB, r *walktest.Run) string {
	t.Helper()
	lib := library(t)
	at := start.Add(2 * time.Hour)
	entries := []model.Entry{{Seq: 1, At: start.AddDate(0, -2, 0), ID: "m", Machine: "M1",
		Fact: model.Fact{Kind: model.KindMachine, Machine: &r.M.MachineFact}}}
	entries[0].Fact.Machine.ID = "M1"
	for _, e := range r.J.Entries {
		if model.ClassOf(e.Kind) == model.Dated {
			e.Seq, e.At, e.Machine = uint64(len(entries)+1), at, "M1"
			entries = append(entries, e)
		}
	}
	m := model.FoldMachine("M1", entries, nil)
	if m == nil {
		t.Fatal("no machine")
	}
	out, err := json.Marshal(model.Gauges(m, lib.Heads(), at.AddDate(0, 0, 3)))
	if err != nil {
		t.Fatal(err)
	}
	return string(out)
}

// TestToldAsWalked: a session told from paper gives the gauges that the walked one gives with equal
// answers, in far fewer keys, and nothing told is a known answer or a pace.
func TestToldAsWalked(t *testing.T) {
	walked := paced(t, walk.Steps, nil, twelve...)
	r := onPaper(t, twelve...)
	tell(t, r)
	keys := r.Keys
	for _, e := range r.J.Entries {
		x := e.Walk
		if x == nil || !slices.Contains([]model.What{walk.Passed, walk.Missed, walk.Skipped}, x.What) {
			continue
		}
		if x.How != model.OnPaper {
			t.Errorf("%s/%s was told and is marked %q", x.ID, x.Step, x.How)
		}
	}
	prompts := r.Prompts
	walkOn(t, r)
	t.Logf("walked %d prompts, %d keys; told %d, %d, and %d, %d with what is asked as of now",
		walked.Prompts, walked.Keys, prompts, keys, r.Prompts, r.Keys)
	if keys*2 > walked.Keys || r.Keys*3 > walked.Keys*2 || prompts > len(twelve)+1 {
		t.Error("it is told in too many keys or prompts")
	}
	if a, b := gaugesOf(t, walked), gaugesOf(t, r); a != b {
		t.Errorf("walked the gauges are\n%s\ntold\n%s", a, b)
	}
	if r.W.End == nil || r.W.End.State != "ready" {
		t.Errorf("it ends %+v", r.W.End)
	}
	noPace(t, r)
}

// noPace fails where a session told three times would go by pages the next time it is walked.
func noPace(t testing.TB, r *walktest.Run) {
	t.Helper()
	p := model.Practice{Shown: map[string]model.Walks{}}
	for _, x := range r.W.End.Practice {
		p.Shown[x.Shown] = model.Walks{Steps: 3, Last: r.Now}
	}
	lib := library(t)
	again := begin(t, lib, machine(lib, "full"), twelve...)
	again.Pace, again.Practice = walk.ByUse, p
	for again.W.Cur < len(again.W.Blocks)-1 {
		b := again.W.Block()
		if b != nil && b.Kind == model.BlockCare && again.W.InPages(again.Context()) {
			t.Fatalf("%s goes by pages, and was only told", b.ID)
		}
		if done, err := again.Step(); err != nil || done {
			t.Fatal(done, err)
		}
	}
}

// walkOn answers the rest as the screens take it, well.
func walkOn(t testing.TB, r *walktest.Run) {
	t.Helper()
	for range 1000 {
		done, err := r.PageStep()
		if err != nil {
			t.Fatal(err)
		}
		if done {
			return
		}
	}
	t.Fatal("the session does not end")
}

// TestToldIsInterruptedAnywhere: ended before every single answer and opened again, the telling
// goes on at the very row, no state is asked before all is told, and nothing is told twice.
func TestToldIsInterruptedAnywhere(t *testing.T) {
	plain := onPaper(t, "rods-wipe", "blade-check")
	tell(t, plain)
	finish(t, plain)
	r := onPaper(t, "rods-wipe", "blade-check")
	for r.W.Telling() {
		before := *r.W.Page(r.Context())
		f := fork(t, r)
		f.Now = r.Now.Add(20 * time.Hour)
		rep, err := f.W.Resume(f.Context())
		take(t, f, rep, err)
		f.Now = r.Now
		if p := f.W.Page(f.Context()); p == nil || !slices.EqualFunc(p.Rows, before.Rows,
			func(a, b walk.Row) bool { return a.Step.Name == b.Step.Name && a.Done == b.Done }) {
			t.Fatalf("it went on at another page than %s", before.Block.ID)
		}
		r = f
		if _, err := r.TellStep(); err != nil {
			t.Fatal(err)
		}
	}
	finish(t, r)
	if a, b := gaugesOf(t, plain), gaugesOf(t, r); a != b || cared(plain) != cared(r) {
		t.Errorf("at one stretch %s\n%s\ninterrupted %s\n%s", cared(plain), a, cared(r), b)
	}
}

// toldOf is a session told to its end, and the machine not asked yet.
func toldOf(t testing.TB, ids ...string) *walktest.Run {
	t.Helper()
	r := onPaper(t, ids...)
	tell(t, r)
	return r
}

// asksOf answers what is asked of the state, each thing as given, else well.
func asksOf(t testing.TB, r *walktest.Run, answers map[model.Variable]string) {
	t.Helper()
	for {
		p := r.W.Prompt(r.Now)
		text, ok := answers[p.Variable]
		switch {
		case p.Kind != walk.AskState:
			return
		case ok:
			if rep := say(t, r, text); rep.Refusal != "" {
				t.Fatal(rep.Refusal)
			}
			continue
		}
		if _, err := r.Step(); err != nil {
			t.Fatal(err)
		}
	}
}

// TestNoTickClearsVapour: whether the vapour of work on paper was aired is asked by its minutes;
// where it was not, power that is on is cut from away before anything else.
func TestNoTickClearsVapour(t *testing.T) {
	for minutes, want := range map[string]string{"10": "close-out", "12 min": "close-out",
		"0": "cut-vapour", "9": "cut-vapour"} {
		r := toldOf(t, "rods-wipe")
		if p := r.W.Prompt(r.Now); p.Variable != model.Vapour {
			t.Fatalf("it asks %s %q first", p.Variable, p.Question)
		}
		asksOf(t, r, map[model.Variable]string{model.Vapour: minutes, model.Power: "on",
			model.Heat: "24"})
		if b := r.W.Block(); b == nil || b.ID != want {
			t.Errorf("aired %s min it goes on with %+v, not %s", minutes, b, want)
		}
	}
	r := toldOf(t, "rods-wipe")
	for text, want := range map[string]string{"yes": "Type the minutes", "-3": "Type the minutes",
		"4000": "the work had not begun"} {
		if rep := say(t, r, text); !strings.Contains(rep.Refusal, want) {
			t.Errorf("%q is answered %q, not %q", text, rep.Refusal, want)
		}
	}
	if r = toldOf(t, "blade-check"); r.W.Prompt(r.Now).Variable == model.Vapour {
		t.Error("it asks for vapour where nothing was wetted")
	}
}

// TestProofsAreTold: what a proof shows is told, no tick passes it.
func TestProofsAreTold(t *testing.T) {
	r := onPaper(t, "first-layer")
	for r.W.Block().ID != "first-layer" {
		if _, err := r.TellStep(); err != nil {
			t.Fatal(err)
		}
	}
	for _, row := range r.W.Page(r.Context()).Rows {
		if s := row.Step; row.Seen != "" && (s.Gate == model.Choice || s.Gate == model.Measure) {
			t.Errorf("a tick passes %s of the proof: %s", s.Name, row.Seen)
		}
	}
	say(t, r, "leave no time")
	tell(t, r)
	if done := careOf(&r.J, "done"); slices.Contains(done, "first-layer") {
		t.Errorf("left out it is on record: %v", done)
	}
}

// TestATellingGivenUp: given up it leaves no tag where the book has nothing out, one with vapour
// told, and says nothing of how the machine stands, what was walked or which cautions were read.
func TestATellingGivenUp(t *testing.T) {
	for id, tagged := range map[string]bool{"belt-tone": false, "rods-wipe": true} {
		r := onPaper(t, id)
		for r.W.Cur < len(r.W.Blocks)-1 {
			if _, err := r.TellStep(); err != nil {
				t.Fatal(err)
			}
		}
		for range 4 {
			if _, err := r.TellStep(); err != nil {
				t.Fatal(err)
			}
		}
		rep, err := r.W.GiveUp(r.Context(), "the sheet is another machine's")
		take(t, r, rep, err)
		tag := slices.ContainsFunc(rep.Facts, func(f model.Fact) bool { return f.Tag != nil })
		if e := r.W.End; tag != tagged || e.Unplugged || len(e.Stood) > 0 ||
			len(e.Practice) > 0 {
			t.Errorf("%s: tagged %v, %+v", id, tag, e)
		}
	}
}

// TestWhatIsOutIsAsked: what was told to be out and not back is asked as of now, and nothing goes
// on before it is in.
func TestWhatIsOutIsAsked(t *testing.T) {
	r := onPaper(t, "belts-reset")
	for r.W.Telling() {
		pg := r.W.Page(r.Context())
		at := slices.IndexFunc(pg.Rows, func(row walk.Row) bool {
			return !row.Done && row.Step.Set["belts"] == "clear"
		})
		if at < 0 {
			if _, err := r.TellStep(); err != nil {
				t.Fatal(err)
			}
			continue
		}
		rep, err := r.W.AnswerRow(r.Context(), pg.Rows[at].No, "skip called away")
		take(t, r, rep, err)
		if err := r.Settle(); err != nil {
			t.Fatal(err)
		}
		break
	}
	tell(t, r)
	if l := r.W.Ledger(); l.Flags["belts"] == "" {
		t.Fatalf("the belts are told loose, and the book has %+v", l)
	}
	asksOf(t, r, map[model.Variable]string{model.Power: "off", model.Heat: "24"})
	if p := r.W.Prompt(r.Now); p.Kind != walk.AskLedger || p.Item != "flag:belts" {
		t.Errorf("it asks %s %q", p.Kind, p.Question)
	}
	if part := careOf(&r.J, "part"); !slices.Contains(part, "belts-reset") {
		t.Errorf("care with a row skipped is on record as %v", part)
	}
}

// tellAnyhow tells one thing of a sheet by chance: right, wrong, not done, left out, taken back.
func tellAnyhow(t testing.TB, r *walktest.Run, by *rand.Rand) {
	t.Helper()
	pg := r.W.Page(r.Context())
	if pg == nil || pg.End || by.IntN(3) == 0 {
		if _, err := r.TellStep(); err != nil && !strings.Contains(err.Error(), "was refused") {
			t.Fatal(err)
		}
		return
	}
	row := pg.Rows[by.IntN(len(pg.Rows))]
	says := []string{"ok", "fail", "skip by chance", "leave by chance", "back", "7", "-1", "0", "4000",
		"not read", "-", "#1 skip twice", "#0", "#999 ok", "nonsense", "note by chance", "at noon"}
	for _, o := range row.Step.Options {
		says = append(says, o.Is)
	}
	text := says[by.IntN(len(says))]
	if by.IntN(2) == 0 && !strings.HasPrefix(text, "#") && !strings.HasPrefix(text, "leave") {
		text = "#" + strconv.Itoa(row.No) + " " + text
	}
	rep, err := r.W.PageAnswer(r.Context(), text)
	if err == nil {
		err = r.Take(rep, nil)
	}
	if err == nil {
		err = r.Settle()
	}
	if err != nil {
		t.Fatalf("%s/%s %q: %v", pg.Block.ID, row.Step.Name, text, err)
	}
}

// TestTellingAnyhow: whatever is told, in whatever order, the telling comes to its end, asks nothing
// of the machine before, passes nothing by what is known, reads the same loaded anew, and the session
// is closed like any other.
func TestTellingAnyhow(t *testing.T) {
	for seed := range uint64(40) {
		by := rand.New(rand.NewPCG(seed, 7))
		r := onPaper(t, twelve...)
		for n := 0; r.W.Telling(); n++ {
			if by.IntN(8) == 0 { // the program ends, and another day it goes on
				at := r.Now
				r = fork(t, r)
				r.Now = at.Add(20 * time.Hour)
				rep, err := r.W.Resume(r.Context())
				take(t, r, rep, err)
				r.Now = at
			}
			if len(r.W.Believed) > 2 {
				t.Fatalf("seed %d: of paper %v is believed", seed, r.W.Believed)
			}
			if p := r.W.Prompt(r.Now); p.Kind != walk.AskStep && p.Kind != walk.AskEnd {
				t.Fatalf("seed %d: it asks %s %q before all is told", seed, p.Kind, p.Question)
			}
			if n < 400 {
				tellAnyhow(t, r, by)
				continue
			}
			say(t, r, "leave enough told")
			if _, err := r.TellStep(); err != nil {
				t.Fatalf("seed %d: %v", seed, err)
			}
		}
		for _, e := range r.J.Entries {
			if x := e.Walk; x != nil && (x.How == model.AsKnown || x.Auto) {
				t.Errorf("seed %d: %s/%s passed by itself", seed, x.ID, x.Step)
			}
		}
		again, err := walk.Load(r.J.Entries, r.J.Text)
		if err != nil {
			t.Fatal(err)
		}
		if a, b := again.Position()+walk.LedgerLine(again.Ledger()),
			r.W.Position()+walk.LedgerLine(r.W.Ledger()); a != b {
			t.Errorf("seed %d: loaded anew it is %s, not %s", seed, a, b)
		}
		if err := r.Finish(); err != nil {
			t.Errorf("seed %d: %v", seed, err)
		}
	}
}

// TestAStopToldEndsTheTelling: a stop that is told leaves no clock of then running, so that vapour
// is not cleared by the hours since; and the hands of what was told count.
func TestAStopToldEndsTheTelling(t *testing.T) {
	r := onPaper(t, "rods-wipe", "estop-check-look")
	r.Now = start.Add(20 * time.Hour)
	for r.W.Block().ID != "estop-check-look" {
		if _, err := r.TellStep(); err != nil {
			t.Fatal(err)
		}
	}
	if r.W.Believed[model.Vapour] != model.Drying {
		t.Fatal("nothing was wetted before the stop")
	}
	for _, row := range r.W.Page(r.Context()).Rows {
		if slices.Contains(r.W.Choices(row.Step), "goes on") {
			rep, err := r.W.AnswerRow(r.Context(), row.No, "goes on")
			take(t, r, rep, err)
			break
		}
	}
	if r.W.Stopped == "" || r.W.Telling() {
		t.Fatalf("stopped %q, telling %v", r.W.Stopped, r.W.Telling())
	}
	if len(r.W.Clocks)+len(r.W.Waits) > 0 {
		t.Errorf("clocks run on: %v %v", r.W.Clocks, r.W.Waits)
	}
	finish(t, r)
	if e := r.W.End; !e.Stopped || e.Hands < 5 || e.Hands+e.Waited < 100 {
		t.Errorf("it ends stopped %v, hands %.0f, waited %.0f min", e.Stopped, e.Hands, e.Waited)
	}
}

// TestAPieceToldToBeFoundIsFound: a row that told of a piece left in the machine, once or twice, and
// then that it came out clear, leaves nothing to look for; left so it is one piece.
func TestAPieceToldToBeFoundIsFound(t *testing.T) {
	for last, lost := range map[string]int{"clear": 0, "skip nobody looked again": 1} {
		r := onPaper(t, "camera-clean")
		at := func() walk.Row {
			for _, row := range r.W.Page(r.Context()).Rows {
				if slices.Contains(r.W.Choices(row.Step), "found") {
					return row
				}
			}
			return walk.Row{}
		}
		for r.W.Block().ID != "camera-clean" {
			if _, err := r.TellStep(); err != nil {
				t.Fatal(err)
			}
		}
		for _, text := range []string{"found", "found", last} {
			rep, err := r.W.AnswerRow(r.Context(), at().No, text)
			take(t, r, rep, err)
		}
		if got := r.W.Ledger().LostPieces(); len(got) != lost {
			t.Errorf("told %q at last %v is missing", last, got)
		}
	}
}

// TestWhatIsLoggedAlreadyIsSaid: care logged on the day of the work on paper, by its day alone or
// told a second time, is said before it is told; what was done the day before is not.
func TestWhatIsLoggedAlreadyIsSaid(t *testing.T) {
	for _, c := range []struct {
		at   time.Time
		said bool
	}{{start, true}, {start.Add(2 * time.Hour), true}, {start.Add(-time.Hour), true},
		{start.AddDate(0, 0, 2), true}, {start.AddDate(0, 0, -1), false}} {
		r := onPaper(t, "camera-clean")
		r.M.Care = map[string]*model.CareLast{"camera-clean": {At: c.at, Known: true}}
		for r.W.Block().ID != "camera-clean" {
			if _, err := r.TellStep(); err != nil {
				t.Fatal(err)
			}
		}
		if got := r.W.Elsewhere(r.M); strings.Contains(got, "leave it out if that is what") != c.said {
			t.Errorf("logged at %s it says %q", c.at, got)
		}
	}
}
