package job

import (
	"bytes"
	"context"
	"encoding/binary"
	"errors"
	"fmt"
	"io"
	"os"
	"runtime"
	"runtime/debug"
	"strings"
	"testing"

	"github.com/klauspost/compress/zip"
)

// TestBadInput: what cannot be read ends in one sentence with its line, and what came before is
// partial; a line that is not as it should be does so only where that is asked for.
func TestBadInput(t *testing.T) {
	good := "G90\nG1 X10 E1 F600\n"
	for name, c := range map[string]struct {
		text, want string
		moves      int64
	}{
		"empty":                {"", "there is nothing in it", 0},
		"comments only":        {"; a\n\n; b\n", "its 3 lines hold no command", 0},
		"a letter to somebody": {"Dear reader\nyours\n", "none of its 2 lines is a command", 0},
		"binary": {good + "G1 X\x00\x01\x02\n", "line 3: the byte 0x00 is not text",
			1},
		"high bytes": {good + "\xd0\xcf\x11\xe0\n", "line 3: the byte 0xd0 is not text",
			1},
		"no number": {good + "G1 Xnan\n", "line 3: what stands after X is no number",
			1},
		"infinity": {good + "G1 X-inf\n", "line 3: what stands after X is no number",
			1},
		"far too large": {good + "G1 X1e400\n", "line 3: a number with a power of ten", 1},
		"many digits": {good + "G1 X" + strings.Repeat("9", 400) + "\n",
			"line 3: the number after X is larger", 1},
		"beyond any machine": {good + "G1 X1000001\n", "line 3: X is beyond 1000000", 1},
		"arc without a centre": {good + "G2 X0 Y5\n",
			"line 3: the arc has no centre: it needs I and J, or R", 1},
		"arc in another plane": {good + "G18\nG3 X0 Z5 J2\n",
			"line 4: the arc has no centre: it needs K and I, or R", 1},
		"arc of no radius": {good + "G2 X0 I0 J0\n", "line 3: the arc has a radius of nothing",
			1},
		"radius too small": {good + "G2 X0 R1\n", "line 3: the radius 1.000 mm is too small",
			1},
		"radius, going nowhere": {good + "G2 X10 R5\n",
			"line 3: an arc by its radius cannot end where it begins", 1},
		"centre far off": {good + "G2 X0 I3 J0\n",
			"line 3: the arc begins 3.000 mm from its centre", 1},
		"comment not closed": {good + "G1 (over\n",
			"line 3: the comment in parentheses does not end", 1},
		"comment in a comment": {good + "(a (b))\n", "line 3: the comment in parentheses", 1},
		"a word twice":         {good + "G1 X1 X2\n", "line 3: the word X stands twice", 1},
		"expression":           {good + "G1 X[#5]\n", "line 3: ", 1},
		"template left in":     {good + "{if layer}\n", "line 3: '{' begins an expression", 1},
		"two moves on a line":  {good + "G1 X1 G2 X3\n", "line 3: the word X stands twice", 1},
		"damaged checksum":     {good + "N3 G1 X5*1\n", "line 3: the checksum is *1", 1},
		"zstd":                 {"\x28\xb5\x2f\xfdxxxx", "packed with zstd", 0},
		"utf-16":               {"\xff\xfeG\x001\x00", "written in UTF-16", 0},
		"cut gzip": {string(packed(t, []byte(strings.Repeat(good, 500)))[:40]),
			"cut off here", 0},
		"damaged gzip": {"\x1f\x8b\x08\x00aaaaaaaaaaaaaaaaaaaa", "damaged here", 0},
		"cut zip":      {"PK\x03\x04aaaaaaaaaaaaaaaa", "no directory at its end", 0},
	} {
		t.Run(name, func(t *testing.T) {
			r, err := scanText(c.text, Options{Time: true, Strict: true})
			var f *Fault
			if !errors.As(err, &f) || !strings.Contains(err.Error(), c.want) {
				t.Fatalf("%v, want %q", err, c.want)
			}
			if r.Moves != c.moves {
				t.Errorf("%d moves came before, want %d", r.Moves, c.moves)
			}
			if c.moves > 0 && !r.Partial {
				t.Error("not said to be partial")
			}
		})
	}
}

// TestReadsOn: of lines that are not as they should be all are counted and three are named; the
// lines between them are read.
func TestReadsOn(t *testing.T) {
	bad := "G1 Xnan\nG1 X1000001\nG2 X0 Y5\nG1 X1 X2\n{if}\nN3 G1 X5*1\n"
	text := "G90\nM83\n" + strings.Repeat(strings.ReplaceAll(bad, "\n", "\nG1 X10 E1 F600\n"), 50)
	for name, o := range map[string]Options{"": {}, "in blocks": {block: 64},
		"with time": {Time: true}} {
		r := mustScan(t, text, o)
		if r.Partial || r.Moves != 300 || r.Bad != 300 || r.Skipped != 300 || r.Lines != 602 ||
			r.Filament[0].Pushed != 300*mm || len(r.Warnings) != 3 {
			t.Errorf("%s: %+v", name, r)
		}
		for i, want := range []Warning{{3, "what stands after X is no number", true},
			{5, "X is beyond 1000000, further than any machine reaches", true},
			{7, "the arc has no centre: it needs I and J, or R", true}} {
			if r.Warnings[i] != want {
				t.Errorf("%s: %+v, want %+v", name, r.Warnings[i], want)
			}
		}
	}
}

// TestWhatEndsReadingIsSaid: also behind many lines that are not as they should be.
func TestWhatEndsReadingIsSaid(t *testing.T) {
	text := "G1 X10\n" + strings.Repeat("G1 Xnan\n", 9) + "G1 X\x00\n"
	for _, o := range []Options{{}, {block: 64}, {Time: true}} {
		_, err := scanText(text, o)
		if err == nil || !strings.Contains(err.Error(), "line 11: the byte 0x00 is not text") {
			t.Errorf("%v", err)
		}
	}
}

// TestUnknownIsNamed: what is not known is counted under its name, and ends nothing.
func TestUnknownIsNamed(t *testing.T) {
	r := mustScan(t,
		"G1 X1\nG5 I1 J2\nM42 P1 S2\nSET_LIMIT A=1\n_START BED=60\n@pause now\nM0 Click to go on (please)\nM1\nG1 X2 S4\n", Options{})
	for _, want := range []string{"G5", "M42", "SET_LIMIT", "_START", "@PAUSE", "G1 S"} {
		if count(r.Unknown, want) != 1 {
			t.Errorf("%s is counted %d times in %v", want, count(r.Unknown, want), r.Unknown)
		}
	}
	if r.Pauses != 2 || r.Moves != 2 || len(r.Unknown) != 6 {
		t.Errorf("%d pauses, %d moves, unknown %v", r.Pauses, r.Moves, r.Unknown)
	}
}

// long is a reader of n bytes of one kind, made as they are read.
type long struct {
	b    byte
	left int64
}

func (l *long) Read(p []byte) (int, error) {
	if l.left == 0 {
		return 0, io.EOF
	}
	n := min(int64(len(p)), l.left)
	for i := range p[:n] {
		p[i] = l.b
	}
	l.left -= n
	return int(n), nil
}

func TestLineOf100MB(t *testing.T) {
	r := io.MultiReader(strings.NewReader("G90\nG1 X1\n; "), &long{'a', 100 << 20},
		strings.NewReader("\n"))
	got, err := ScanStream(context.Background(), r, Options{})
	if err == nil || !strings.Contains(err.Error(),
		"line 3: the line is longer than 1048576 bytes") {
		t.Fatalf("%v", err)
	}
	if got[0].Moves != 1 || !got[0].Partial {
		t.Errorf("%+v", got[0])
	}
}

// A comment of tens of kB is no fault, wherever a block ends.
func TestLongComments(t *testing.T) {
	text := "G1 X1\n; " + strings.Repeat("T1 ", 20_000) + "\nG1 X2\n"
	for _, block := range []int{0, 1000, 4096} {
		if r := mustScan(t, text, Options{block: block}); r.Moves != 2 || r.ToolChanges != 0 {
			t.Errorf("blocks of %d: %+v", block, r)
		}
	}
}

// zipped makes a container; a name ending in / has no text.
func zipped(t testing.TB, members ...string) []byte {
	t.Helper()
	var b bytes.Buffer
	z := zip.NewWriter(&b)
	for i := 0; i < len(members); i += 2 {
		w, err := z.Create(members[i])
		if err != nil {
			t.Fatal(err)
		}
		if _, err := io.WriteString(w, members[i+1]); err != nil {
			t.Fatal(err)
		}
	}
	if err := z.Close(); err != nil {
		t.Fatal(err)
	}
	return b.Bytes()
}

func TestZip(t *testing.T) {
	b := zipped(t, "a/plate_1.gcode", "G1 X1\nT0\nT1\n", "picture.png", "\x00\x01",
		"a/PLATE_2.GCODE", "G1 X5\n")
	r, err := Scan(context.Background(), bytes.NewReader(b), int64(len(b)), Options{})
	if err != nil || len(r) != 2 || r[0].Name != "a/plate_1.gcode" || r[0].ToolChanges != 1 ||
		r[1].Name != "a/PLATE_2.GCODE" || r[1].Moves != 1 {
		t.Fatalf("%+v %v", r, err)
	}
	for name, c := range map[string]struct {
		b    []byte
		want string
	}{
		"climbs out": {zipped(t, "../../x.gcode", "G1 X1\n"),
			`the name "../../x.gcode", which leads out of it`},
		"climbs by backslash": {zipped(t, `a\..\x.gcode`, "G1 X1\n"), "leads out of it"},
		"from the root":       {zipped(t, "/etc/x.gcode", "G1 X1\n"), "leads out of it"},
		"another one climbs":  {zipped(t, "x.gcode", "G1 X1\n", "../y.png", ""), "leads out of it"},
		"none in it":          {zipped(t, "x.txt", "G1 X1\n"), "holds no .gcode member"},
		"a member is bad": {zipped(t, "x.gcode", "G1 X1\n", "y.gcode", "G1 X1\nG2 X3\n"),
			`"y.gcode", line 2: the arc has no centre`},
		"a bomb": {zipped(t, "x.gcode", strings.Repeat("\n", 64<<20)),
			"unpacks to more than 200 times its size"},
	} {
		t.Run(name, func(t *testing.T) {
			_, err := Scan(context.Background(), bytes.NewReader(c.b), int64(len(c.b)),
				Options{Strict: true})
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("%v, want %q", err, c.want)
			}
		})
	}
	t.Run("a million entries claimed", func(t *testing.T) {
		end := make([]byte, 22)
		copy(end, "PK\x05\x06")
		binary.LittleEndian.PutUint16(end[8:], 65535)
		binary.LittleEndian.PutUint16(end[10:], 65535)
		_, err := Scan(context.Background(), bytes.NewReader(end), 22, Options{})
		if err == nil || !strings.Contains(err.Error(), "more than 10000") {
			t.Errorf("%v", err)
		}
	})
	t.Run("in a pipe", func(t *testing.T) {
		if _, err := ScanStream(context.Background(), bytes.NewReader(b), Options{}); err == nil ||
			!strings.Contains(err.Error(), "cannot be read from a pipe") {
			t.Errorf("%v", err)
		}
	})
}

func TestGzipBomb(t *testing.T) {
	b := packed(t, bytes.Repeat([]byte("\n"), 64<<20))
	_, err := Scan(context.Background(), bytes.NewReader(b), int64(len(b)), Options{})
	if err == nil || !strings.Contains(err.Error(), "200 times its size") {
		t.Errorf("%v", err)
	}
}

func TestReaderThatFails(t *testing.T) {
	broken := errors.New("the disk is gone")
	r := io.MultiReader(strings.NewReader("G1 X1\nG1 X2\n"), failing{broken})
	got, err := ScanStream(context.Background(), r, Options{})
	if !errors.Is(err, broken) || len(got) != 1 || got[0].Moves != 2 || !got[0].Partial {
		t.Errorf("%+v %v", got, err)
	}
	ctx, cancel := context.WithCancel(context.Background())
	cancel()
	if _, err := Scan(ctx, strings.NewReader("G1 X1\n"), 6, Options{}); !errors.Is(err,
		context.Canceled) {
		t.Errorf("%v", err)
	}
}

type failing struct{ err error }

func (f failing) Read([]byte) (int, error) { return 0, f.err }

// TestMemory: 256 MB of print as a stream, with as many strange names, changes and layers as it can
// hold, and the heap stays small.
func TestMemory(t *testing.T) {
	if testing.Short() {
		t.Skip("reads 256 MB")
	}
	pr, pw := io.Pipe()
	go func() {
		i := 0
		var err error
		for n := 0; n < 256<<20 && err == nil; i++ {
			var k int
			k, err = fmt.Fprintf(pw, "%sG1 X%d Y%d Z%d.%d E%d\nT%d\nODD_%d %s\n",
				strings.Repeat("G1 X1 E1\n",
					400), i%300, i%200, i/100, i%100, i%1000, i%5, i, strings.Repeat("x", 2000))
			n += k
		}
		pw.CloseWithError(err)
	}()
	defer debug.SetGCPercent(debug.SetGCPercent(20))
	top := uint64(0)
	_, err := ScanStream(context.Background(), pr, Options{Time: true, Progress: func(p Progress) {
		if p.Lines%7 == 0 {
			var m runtime.MemStats
			runtime.ReadMemStats(&m)
			top = max(top, m.HeapInuse)
		}
	}})
	if err != nil {
		t.Fatal(err)
	}
	if top > 48<<20 {
		t.Errorf("the heap grew to %d MiB", top>>20)
	}
	if os.Getenv("OILCAN_BENCH_MB") != "" {
		t.Logf("heap at most %d KiB", top>>10)
	}
}

// TestProgressPanics: a panic of who is told of the progress comes through as it is, so that a
// screen can leave the terminal as it was.
func TestProgressPanics(t *testing.T) {
	defer func() {
		if got := recover(); got != "from progress" {
			t.Errorf("%v comes through", got)
		}
	}()
	scanText("G1 X1\n", Options{Workers: 1, Progress: func(Progress) { panic("from progress") }})
}
