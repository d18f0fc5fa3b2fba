package store

import (
	"reflect"
	"strings"

	"bench/oilcan/model"
)

// longestText is how many bytes one text of an entry may have: far beyond a sentence, far below a
// flood.
const longestText = 16 << 10

// judge refuses what nobody can type and the program never says, whatever stands around it in the
// journal. What is appended and what is restored are judged alike.
func judge(e model.Entry) error {
	if bad, ok := badText(reflect.ValueOf(e)); ok {
		return refuse("a text cannot be shown, or is far too long: %.60q", bad)
	}
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

// judgeWhole judges an entry that was not appended here, in itself.
func judgeWhole(e model.Entry) error {
	if err := judge(e); err != nil {
		return err
	}
	switch e.Kind {
	case model.KindMachine, model.KindBegun, model.KindClosed, model.KindWalk, model.KindStrike, model.KindStock:
		return nil
	}
	return allowDated(e.Fact)
}

// word tells a word of the program's own: small letters and dashes, or nothing.
func word[T ~string](s T) bool {
	return len(s) <= 40 && !strings.ContainsFunc(string(s), func(r rune) bool { return (r < 'a' || r > 'z') && r != '-' })
}

// badText is the first text in a value that cannot be shown or is too long. Lost pieces stand a
// line each.
func badText(v reflect.Value) (string, bool) {
	switch v.Kind() {
	case reflect.String:
		s := v.String()
		return s, len(s) > longestText || !model.Showable(strings.ReplaceAll(s, "\n", ""))
	case reflect.Pointer:
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
