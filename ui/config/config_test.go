package config

import (
	"os"
	"path/filepath"
	"testing"
)

func TestParse(t *testing.T) {
	tests := []struct {
		name, text string
		want       Config
		err        string
	}{
		{name: "empty", want: Default()},
		{name: "all",
			text: "theme = \"light\"\nascii = true\nbell = false\noperator = \"Ada\"\nbench = \"north bench\"\nunits = \"metric\"\npace = \"pages\"\ncurrency = \"EUR\"\n",
			want: Config{Theme: "light", ASCII: true, Operator: "Ada", Bench: "north bench",
				Units: "metric", Pace: "pages", Currency: "EUR"}},
		{name: "unknown setting", text: "ascii = true\ncolour = 3\n",
			err: `2: there is no setting "colour": the settings are theme, ascii, bell, operator, bench, units, pace and currency`},
		{name: "unknown theme", text: "bell = true\ntheme = \"pink\"",
			err: `2: theme "pink" is not known: write dark or light`},
		{name: "currency", text: "currency = \"pieces of eight\"",
			err: `1: currency is a word of at most 8 characters: write "EUR"`},
		{name: "pace", text: "pace = \"fast\"",
			err: `1: pace "fast" is not known: write auto, steps or pages`},
		{name: "units", text: "units = \"imperial\"",
			err: `1: units "imperial" are not known: every figure is metric, so write metric`},
		{name: "control character", text: "operator = \"a\\u001b[31m\"",
			err: `1: operator holds characters that cannot be shown: write a name`},
		{name: "bench of control characters", text: "bell = true\nbench = \"a\\u001b[2J\"",
			err: `2: bench holds characters that cannot be shown: write a name`},
		{name: "number for a text", text: "bell = true\ntheme = 3",
			err: `2: theme cannot be that: write theme = "dark" or theme = "light"`},
		{name: "text for a truth", text: "bell = \"yes\"",
			err: `1: bell cannot be that: write bell = true or bell = false`},
		{name: "broken number for a truth", text: "ascii = 1.5",
			err: `1: ascii cannot be that: write ascii = true or ascii = false`},
		{name: "date for a truth", text: "bell = 2026-01-01",
			err: `1: bell cannot be that: write bell = true or bell = false`},
		{name: "list for a text", text: "operator = [\"a\"]",
			err: `1: operator cannot be that: write operator = "a name"`},
		{name: "table for a text", text: "\n[theme]",
			err: `2: theme cannot be that: write theme = "dark" or theme = "light"`},
		{name: "table in a line", text: "bench = {a = 1}",
			err: `1: bench cannot be that: write bench = "a name"`},
		{name: "dotted", text: "units.of = 1",
			err: `1: units cannot be that: write units = "metric"`},
		{name: "twice", text: "theme = \"dark\"\ntheme = \"dark\"",
			err: `2: theme stands twice: leave one out`},
		{name: "no value", text: "theme =\n",
			err: `1: this line cannot be read: write name = value, with text in quotes`},
		{name: "no quotes", text: "bell = true\noperator = Ada",
			err: `2: this line cannot be read: write name = value, with text in quotes`},
		{name: "quote left open", text: "operator = \"Ada",
			err: `1: this line cannot be read: write name = value, with text in quotes`},
		{name: "bench too long",
			text: "bench = \"a bench the name of which goes on and on and on\"",
			err:  `1: bench has 47 characters: at most 40 fit the title line`},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			got, err := Parse([]byte(tt.text))
			if text(err) != tt.err {
				t.Fatalf("error %q, want %q", text(err), tt.err)
			}
			if tt.err == "" && got != tt.want {
				t.Errorf("got %+v, want %+v", got, tt.want)
			}
			if tt.err != "" && got != Default() {
				t.Errorf("a bad file gives %+v, want the defaults", got)
			}
		})
	}
}

func TestParseRefuses(t *testing.T) {
	for _, text := range []string{"theme = ", "theme = 3", "bell = \"yes\"", "[theme]\n",
		"theme = \"dark\"\ntheme = \"dark\""} {
		if got, err := Parse([]byte(text)); err == nil || got != Default() {
			t.Errorf("%q gives %+v, %v; want the defaults and an error", text, got, err)
		}
	}
}

func TestLoad(t *testing.T) {
	dir := t.TempDir()
	if c, err := Load(dir); err != nil || c != Default() {
		t.Errorf("no file gives %+v, %v", c, err)
	}
	if c, err := Load(""); err != nil || c != Default() {
		t.Errorf("no folder gives %+v, %v", c, err)
	}
	path := filepath.Join(dir, "config.toml")
	if err := os.WriteFile(path, []byte("\nbel = 1"), 0o600); err != nil {
		t.Fatal(err)
	}
	_, err := Load(dir)
	want := path +
		`:2: there is no setting "bel": the settings are theme, ascii, bell, operator, bench, units, pace and currency; the defaults are used`
	if text(err) != want {
		t.Errorf("error %q, want %q", text(err), want)
	}
}

// The rules for absolute values and fallbacks are those of the XDG base directory specification
// 0.8.
func TestPaths(t *testing.T) {
	tests := []struct {
		name         string
		env          map[string]string
		folder, data string
	}{
		{"set", map[string]string{"XDG_CONFIG_HOME": "/c", "XDG_DATA_HOME": "/d", "HOME": "/h"},
			"/c/oilcan", "/d/oilcan/bench.oilcan"},
		{"home", map[string]string{"HOME": "/h"}, "/h/.config/oilcan",
			"/h/.local/share/oilcan/bench.oilcan"},
		{"relative passed over", map[string]string{"XDG_CONFIG_HOME": "c", "XDG_DATA_HOME": "./d",
			"HOME": "/h"},
			"/h/.config/oilcan", "/h/.local/share/oilcan/bench.oilcan"},
		{"nothing known", nil, "", ""},
	}
	for _, tt := range tests {
		t.Run(tt.name, func(t *testing.T) {
			env := func(k string) string { return tt.env[k] }
			if got := Folder(env); got != tt.folder {
				t.Errorf("config folder %q, want %q", got, tt.folder)
			}
			if got := DataFile(env); got != tt.data {
				t.Errorf("data file %q, want %q", got, tt.data)
			}
		})
	}
}

func text(err error) string {
	if err == nil {
		return ""
	}
	return err.Error()
}
