package action

import (
	"errors"
	"fmt"
	"maps"
	"slices"
	"strings"

	"bench/oilcan/model"
)

// Features applies a list of features to those a machine has: names alone are the whole new list,
// names with + or - add to it or take from it.
func Features(have []model.Feature, list string) ([]model.Feature, error) {
	names := model.Words(have)
	var signed, plain bool
	var fresh []string
	for w := range strings.SplitSeq(list, ",") {
		w = strings.ToLower(strings.TrimSpace(w))
		switch {
		case w == "":
		case w[0] == '+':
			signed = true
			names = append(names, w[1:])
		case w[0] == '-':
			signed = true
			if err := known(w[1:]); err != nil {
				return nil, err
			}
			names = slices.DeleteFunc(names, func(n string) bool { return n == w[1:] })
		default:
			plain = true
			fresh = append(fresh, w)
		}
	}
	if signed && plain {
		return nil, fmt.Errorf(
			"%q mixes two ways: write the whole list, or only changes like +wiper,-camera", list)
	}
	if !signed {
		names = fresh
	}
	return model.ParseFeatures(names)
}

// known tells in a sentence that a feature is not on the list.
func known(name string) error {
	_, err := model.ParseFeatures([]string{name})
	return err
}

// Band reads blade-check=2000-3500, a machine's own band for a procedure in its own meter;
// blade-check= gives the procedure's band back, with ok false.
func Band(procs []*model.Procedure, f model.MachineFact, text string) (id string, b model.Band,
	ok bool, err error) {
	name, band, found := strings.Cut(text, "=")
	if !found {
		return "", b, false,
			fmt.Errorf(
				"%q is no band: write blade-check=2000-3500, or blade-check= to give the file's band back",
				text,
			)
	}
	p, err := FindProcedure(procs, name)
	if err != nil {
		return "", b, false, err
	}
	if strings.TrimSpace(band) == "" {
		return p.ID, b, false, nil
	}
	fs := model.NewFeatureSet(f.Features...)
	meter := model.OwnBandMeter(p, fs, f.Settings)
	if !p.Fits(fs) || meter == "" {
		return "", b, false, fmt.Errorf("%q has no interval on %s: a band would never count",
			p.Title, f.Name)
	}
	b, err = readBand(meter, band)
	switch {
	case errors.As(err, &model.TwoWays{}):
		return "", b, false, err
	case err != nil:
		return "", b, false,
			fmt.Errorf(
				"%q is no band: write blade-check=2000-3500, or blade-check= to give the file's band back",
				text,
			)
	case b.Low <= 0 || b.High < b.Low:
		return "", b, false,
			fmt.Errorf("%q is no band: the low end comes first and is above nothing", text)
	}
	return p.ID, b, true, nil
}

// WithBand gives the description with an own band for a procedure; nil gives the file's band back.
func WithBand(f model.MachineFact, id string, b *model.Band) model.MachineFact {
	f.Bands = maps.Clone(f.Bands)
	if f.Bands == nil {
		f.Bands = map[string]model.Band{}
	}
	if delete(f.Bands, id); b != nil {
		f.Bands[id] = *b
	}
	return f
}

// readBand reads 2000-3500 of a meter, or the low end alone; the high one is a quarter above it
// then.
func readBand(meter model.Meter, text string) (model.Band, error) {
	low, high, two := strings.Cut(strings.ReplaceAll(text, "–", "-"), "-")
	l, err := meter.Read(low, nil)
	if err != nil || !two {
		return model.Band{Low: l, High: l * 1.25}, err
	}
	h, err := meter.Read(high, nil)
	return model.Band{Low: l, High: h}, err
}

// Setting reads name=value, something procedures must know of a machine, and checks it against what
// they ask; name= forgets it, with an empty value.
func Setting(procs []*model.Procedure, text string) (name, value string, err error) {
	name, value, found := strings.Cut(text, "=")
	name, value = strings.TrimSpace(name), strings.TrimSpace(value)
	if !found || name == "" {
		return "", "", fmt.Errorf("%q is no setting: write name=value, like clamp-screws=4", text)
	}
	var all []string
	for _, p := range procs {
		for _, s := range p.Settings {
			if !slices.Contains(all, s.Name) {
				all = append(all, s.Name)
			}
		}
	}
	for _, s := range model.PrintSettings {
		all = append(all, s.Name)
	}
	slices.Sort(all)
	if name != PlugTag {
		if name, err = Find("setting", name, append(all, PlugTag)); err != nil {
			return "", "", err
		}
	}
	if value == "" {
		return name, "", nil
	}
	if value, err = Text("the setting "+name, value); err != nil {
		return "", "", err
	}
	kept, err := fitsSetting(procs, name, value)
	if err != nil {
		return name, value, err
	}
	return name, kept, nil
}

// PlugTag is the setting that holds what is written on the tag of the machine's plug.
const PlugTag = "plug-tag"

// fitsSetting checks a value against every procedure that asks for the setting, and gives what is
// kept of it.
func fitsSetting(procs []*model.Procedure, name, value string) (string, error) {
	for _, s := range model.PrintSettings {
		if s.Name == name {
			kept, err := s.Value(value)
			if err != nil {
				err = fmt.Errorf("%s cannot be %q: %w: %s", name, value, err, s.Ask)
			}
			return kept, err
		}
	}
	var options []string
	kept := value
	for _, p := range procs {
		for _, s := range p.Settings {
			switch {
			case s.Name != name:
			case len(s.Options) > 0:
				options = append(options, s.Options...)
			default:
				var err error
				if kept, err = s.Value(value); err != nil {
					return "", fmt.Errorf("%s cannot be %q: %w: %s", name, value, err, s.Ask)
				}
			}
		}
	}
	if len(options) > 0 && !slices.Contains(options, value) {
		slices.Sort(options)
		return "", fmt.Errorf("%s cannot be %q: choose one of %s", name, value,
			strings.Join(slices.Compact(options), ", "))
	}
	return kept, nil
}

// WithSetting gives the description with one setting changed, or forgotten where value is "".
func WithSetting(f model.MachineFact, name, value string) model.MachineFact {
	f.Settings = maps.Clone(f.Settings)
	if f.Settings == nil {
		f.Settings = map[string]string{}
	}
	f.Settings[name] = value
	if value == "" {
		delete(f.Settings, name)
	}
	return f
}
