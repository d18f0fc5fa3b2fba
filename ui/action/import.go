package action

import (
	"bytes"
	"cmp"
	"encoding/csv"
	"errors"
	"fmt"
	"io"
	"slices"
	"strings"
	"time"

	"bench/oilcan/model"
)

// Imported is what a file of meter readings came to: what is to be written, or what is wrong with
// it.
type Imported struct {
	Actions []model.Action // one a line, in the order of time
	Lines   int            // with readings, those already on record left out
	// lines that are on record already or stand in the file twice, every reading of them
	Known int
	Bad   []LineError // lines that cannot be so; Actions is empty then
}

// LineError is a line of a file that cannot be, with the reason.
type LineError struct {
	Line int // from 1, as an editor counts
	Err  error
}

func (e LineError) Error() string { return fmt.Sprintf("line %d: %s", e.Line, e.Err) }

// csvRow is one line of the file, read.
type csvRow struct {
	line     int
	at       time.Time
	machine  *model.Machine
	readings []csvReading
}

// csvReading is one counter in a line, its number read but not yet understood: which of two
// readings of it can be is told by what stands before and after it.
type csvReading struct {
	model.Reading
	typed model.Typed
	next  *model.Point // the next row's of the same counter that is read one way
}

// ReadCSV reads meter readings: a header with at, machine and any typed meters, then one row a
// reading, empty where a meter was not read. Dates are as for Time. Each row is checked against
// what is on record and against the rows before it, in the order of time; a file with any bad line
// gives no actions, and a file that is no such table an error. recorded tells whether a reading is
// on record already.
func ReadCSV(b *model.Bench, data []byte, now time.Time,
	recorded func(machine string, at time.Time, r model.Reading) bool) (Imported, error) {
	r := csv.NewReader(bytes.NewReader(bytes.TrimPrefix(data, []byte("\ufeff"))))
	r.FieldsPerRecord = -1
	r.TrimLeadingSpace = true
	head, err := r.Read()
	if err != nil {
		return Imported{},
			errors.New("the file holds no table: its first line names at, machine and the meters read, as in at,machine,hours,changes")
	}
	cols, err := csvHead(head)
	if err != nil {
		return Imported{}, err
	}
	var in Imported
	var rows []csvRow
	for {
		fields, err := r.Read()
		if errors.Is(err, io.EOF) {
			break
		}
		var syntax *csv.ParseError
		if errors.As(err, &syntax) {
			in.Bad = append(in.Bad,
				LineError{syntax.Line,
					errors.New("a quotation mark stands where none can: write the line anew")})
			continue
		} else if err != nil {
			return Imported{}, err
		}
		line, _ := r.FieldPos(0)
		row, err := readRow(b, cols, fields, now)
		row.line = line
		if err != nil {
			in.Bad = append(in.Bad, LineError{line, err})
			continue
		}
		rows = append(rows, row)
	}
	in.check(rows, now, recorded)
	if len(in.Bad) > 0 {
		in.Actions = nil
		slices.SortStableFunc(in.Bad, func(x, y LineError) int {
			return cmp.Compare(x.Line, y.Line)
		})
	}
	return in, nil
}

// csvHead names the columns of a header: "at", "machine", or a meter.
func csvHead(head []string) ([]string, error) {
	known := []string{"at", "machine"}
	for _, m := range model.TypedMeters {
		known = append(known, string(m))
	}
	var out []string
	for _, h := range head {
		name := folded(h)
		switch {
		case len(head) == 1 && strings.Contains(h, ";"):
			return nil,
				errors.New("its columns are set apart by semicolons: save it with commas between them, and a point in numbers")
		case !slices.Contains(known, name):
			return nil,
				fmt.Errorf("the first line names a column %q: write at, machine and any of %s",
					strings.TrimSpace(h), strings.Join(known[2:], ", "))
		case slices.Contains(out, name):
			return nil, fmt.Errorf("the first line names %s twice: leave one out", name)
		}
		out = append(out, name)
	}
	if !slices.Contains(out, "at") || !slices.Contains(out, "machine") || len(out) < 3 {
		return nil,
			errors.New("the first line must name at, machine and at least one meter, as in at,machine,hours,changes")
	}
	return out, nil
}

// readRow reads one line by its columns.
func readRow(b *model.Bench, cols, fields []string, now time.Time) (csvRow, error) {
	var row csvRow
	if len(fields) != len(cols) {
		return row, fmt.Errorf("it has %d fields and the first line names %d", len(fields),
			len(cols))
	}
	for i, col := range cols {
		text := strings.TrimSpace(fields[i])
		var err error
		switch {
		case col == "at":
			row.at, err = Time(text, now)
		case col == "machine":
			row.machine, err = model.FindMachine(b, text)
		case text != "":
			r := csvReading{Reading: model.Reading{Meter: model.Meter(col), How: "imported"}}
			var asked model.TwoWays
			if r.Value, err = model.ReadMeter(&model.Machine{}, r.Meter, text, now, now); errors.As(
				err, &asked) {
				r.typed, err = asked.Typed, nil
			} else {
				r.typed.Value = r.Value
			}
			row.readings = append(row.readings, r)
		}
		if err != nil {
			return row, err
		}
	}
	if len(row.readings) == 0 {
		return row, errors.New("no meter is read in it: leave the line out")
	}
	return row, nil
}

// series names a meter of a machine.
type series struct {
	machine string
	meter   model.Meter
}

// check puts the rows in the order of time and judges each against the record and the row before
// it.
func (in *Imported) check(rows []csvRow, now time.Time,
	recorded func(string, time.Time, model.Reading) bool) {
	slices.SortStableFunc(rows, func(x, y csvRow) int { return x.at.Compare(y.at) })
	lookAhead(rows)
	last := map[series]model.Point{}
	for _, row := range rows {
		var fresh []model.Reading
		var bad error
		for _, c := range row.readings {
			r, err := c.understood(row, last[series{row.machine.ID, c.Meter}], now, recorded)
			if err != nil {
				bad = err
				break
			}
			key := series{row.machine.ID, r.Meter}
			same := model.Point{At: row.at, Value: r.Value}
			if recorded(row.machine.ID, row.at, r) || last[key] == same {
				last[key] = same
				continue
			}
			if err := checkImported(row, r, last[key], now); err != nil {
				bad = err
				break
			}
			last[key] = model.Point{At: row.at, Value: r.Value}
			fresh = append(fresh, r)
		}
		switch {
		case bad != nil:
			in.Bad = append(in.Bad, LineError{row.line, bad})
		case len(fresh) == 0:
			in.Known++
		default:
			in.Lines++
			a := model.Action{At: row.at, Machine: row.machine.ID}
			for _, r := range fresh {
				a.Facts = append(a.Facts, model.Fact{Kind: model.KindReading, Reading: &r})
			}
			in.Actions = append(in.Actions, a)
		}
	}
}

// lookAhead gives each reading the next one of the same counter whose number is read one way; rows
// are in the order of time.
func lookAhead(rows []csvRow) {
	next := map[series]*model.Point{}
	for _, row := range slices.Backward(rows) {
		for i := range row.readings {
			r := &row.readings[i]
			key := series{row.machine.ID, r.Meter}
			r.next = next[key]
			if !r.typed.Two {
				next[key] = &model.Point{At: row.at, Value: r.Value}
			}
		}
	}
}

// understood gives the reading with its value: where its number can be read two ways, the one that
// can be by the record, the row before and the row after it.
func (c csvReading) understood(row csvRow, before model.Point, now time.Time,
	recorded func(string, time.Time, model.Reading) bool) (model.Reading, error) {
	r := c.Reading
	v, err := c.typed.One(func(v float64) bool {
		r.Value = v
		if recorded(row.machine.ID, row.at, r) {
			return true
		}
		if checkImported(row, r, before, now) != nil {
			return false
		}
		return c.next == nil ||
			checkAfter(r.Meter, c.next.Value, c.next.At, model.Point{At: row.at, Value: v},
				now) == nil
	})
	r.Value = v
	return r, err
}

// checkImported judges a reading against the record, and against the one before it in the file.
func checkImported(row csvRow, r model.Reading, before model.Point, now time.Time) error {
	if err := model.CheckReading(row.machine, r.Meter, r.Value, row.at, now); err != nil {
		return err
	}
	if before.At.IsZero() {
		return nil
	}
	return checkAfter(r.Meter, r.Value, row.at, before, now)
}

// checkAfter judges a reading against one before it alone.
func checkAfter(meter model.Meter, value float64, at time.Time, before model.Point,
	now time.Time) error {
	alone := &model.Machine{Readings: map[model.Meter]*model.Series{meter: {First: before,
		Last: before, N: 1}}}
	return model.CheckReading(alone, meter, value, at, now)
}
