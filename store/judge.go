package store

import (
	"encoding/json"
	"reflect"
	"strings"
	"time"

	"bench/oilcan/model"
)

// longestText is how many bytes one text of an entry may have: far beyond a sentence, far below a
// flood.
const longestText = 16 << 10

// rules are what every entry must hold, whatever stands around it in the journal: what is typed,
// taken in from a table and restored from a file alike.
var rules = []func(model.Entry) error{judgeTexts, judgeDates, judgeIDs, judgeWords, judgeFact}

// judge refuses what nobody can type and the program never says.
func judge(e model.Entry) error {
	for _, rule := range rules {
		if err := rule(e); err != nil {
			return err
		}
	}
	return nil
}

// judgeTexts wants texts that can be shown.
func judgeTexts(e model.Entry) error {
	if bad, ok := badText(reflect.ValueOf(e)); ok {
		return refuse("a text cannot be shown, or is far too long: %.60q", bad)
	}
	return nil
}

// Dates an entry may bear: from before any such machine was made, to a day ahead of the clock.
var earliest = time.Date(1990, 1, 1, 0, 0, 0, 0, time.UTC)

const ahead = 24 * time.Hour

// judgeDates wants a date at which there were such machines, and which was not ahead of the clock
// by more than a day when it was written.
func judgeDates(e model.Entry) error {
	if e.At.Before(earliest) || e.Written.Before(earliest) || e.At.After(e.Written.Add(ahead)) ||
		e.At.Year() > 9999 || e.Written.Year() > 9999 {
		return refuse("the date %s cannot be: give one from 1990 on that is not in the future",
			model.Stamp(e.At, e.Written))
	}
	return nil
}

// judgeIDs wants ids that stand apart in an index.
func judgeIDs(e model.Entry) error {
	ids := []string{e.ID, e.Action, e.Machine, e.Session}
	if m := e.Fact.Machine; m != nil {
		ids = append(ids, m.ID)
	}
	for _, id := range ids {
		if !plainID(id) {
			return refuse("a machine or session id may be up to 64 letters, digits, dashes and dots, not %.80q", id)
		}
	}
	return nil
}

// plainID keeps ids apart from the names beside them in an index, and from its separator.
func plainID(id string) bool {
	return len(id) <= 64 && !strings.ContainsFunc(id, func(r rune) bool {
		return r > '~' || r <= ' ' || r == '*' || r == '/'
	})
}

// judgeWords wants the program's own words where it has some.
func judgeWords(e model.Entry) error {
	switch f := e.Fact; {
	case f.Machine != nil:
		if err := model.CheckName(model.NewBench(), f.Machine.Name, f.Machine.ID); err != nil {
			return say(ErrRefused, err, "%s", err)
		}
		if d := f.Machine.Duty; d != "" && d != model.Home && d != model.Production {
			return refuse("duty is home or production, not %.40q", d)
		}
	case f.Tag != nil && !word(f.Tag.Kind):
		return refuse("%.40q is no tag", f.Tag.Kind)
	case f.Finding != nil && !word(f.Finding.Kind):
		return refuse("%.40q is no kind of finding", f.Finding.Kind)
	}
	return nil
}

// judgeFact wants the part that belongs to the kind, and what is said in it to be possible.
func judgeFact(e model.Entry) error {
	f := e.Fact
	switch {
	case f.Kind == model.KindMachine && f.Machine == nil:
		return refuse("a machine entry describes a machine")
	case f.Kind == model.KindBegun && f.Begun == nil, f.Kind == model.KindWalk && f.Walk == nil,
		f.Kind == model.KindClosed && f.Closed == nil:
		return refuse("an entry of kind %q lacks what it says", f.Kind)
	case f.Kind == model.KindStrike && (f.Strike == nil || f.Strike.Action == ""):
		return refuse("a strike names the action it takes back")
	case f.Kind == model.KindStrike && strings.TrimSpace(f.Strike.Why) == "":
		return refuse("a strike needs a reason: say why")
	case f.Kind == model.KindStock:
		if s := f.Stock; s == nil || s.Part == "" || !finite(s.Change) || !finitePtr(s.Counted) ||
			!finitePtr(s.Minimum) {
			return refuse("a stock move names a part and gives numbers")
		}
		if s := f.Stock; s.Price != nil && !(*s.Price >= 0 && finite(*s.Price)) {
			return refuse("a price is a number from 0 on, not %v", *s.Price)
		}
		return nil
	case model.ClassOf(f.Kind) == model.Dated && f.Kind != model.KindStrike:
		return judgeDated(f)
	}
	return nil
}

// mostText is how many bytes the text of one procedure may have.
const mostText = 1 << 20

// judgeText judges a text that is stored to be walked: what it says can be shown, also where it is
// written in escapes.
func judgeText(text []byte) error {
	if len(text) > mostText {
		return refuse("the text of a procedure is far too long")
	}
	var said any
	if json.Unmarshal(text, &said) != nil {
		if !model.Showable(strings.NewReplacer("\n", "", "\t", "").Replace(string(text))) {
			return refuse("the text of a procedure cannot be shown")
		}
		return nil
	}
	if bad, ok := badText(reflect.ValueOf(&said)); ok {
		return refuse("the text of a procedure cannot be shown, or is far too long: %.60q", bad)
	}
	return nil
}

// word tells a word of the program's own: small letters and dashes, or nothing.
func word[T ~string](s T) bool {
	return len(s) <= 40 && !strings.ContainsFunc(string(s), func(r rune) bool {
		return (r < 'a' || r > 'z') && r != '-'
	})
}

// badText is the first text in a value that cannot be shown or is too long. Lost pieces stand a
// line each.
func badText(v reflect.Value) (string, bool) {
	switch v.Kind() {
	case reflect.String:
		s := v.String()
		return s, len(s) > longestText || !model.Showable(strings.ReplaceAll(s, "\n", ""))
	case reflect.Pointer, reflect.Interface:
		if !v.IsNil() {
			return badText(v.Elem())
		}
	case reflect.Slice:
		for i := range v.Len() {
			if s, bad := badText(v.Index(i)); bad {
				return s, true
			}
		}
	case reflect.Map:
		for at := v.MapRange(); at.Next(); {
			for _, x := range []reflect.Value{at.Key(), at.Value()} {
				if s, bad := badText(x); bad {
					return s, true
				}
			}
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() {
				if s, bad := badText(v.Field(i)); bad {
					return s, true
				}
			}
		}
	}
	return "", false
}
