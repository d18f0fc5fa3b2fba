package procedures

import (
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"testing"

	"bench/oilcan/model"
)

// TestTablesAreClean reads symptoms and materials by every rule.
func TestTablesAreClean(t *testing.T) {
	lib, _ := Load("")
	for _, p := range append(lib.CheckSymptoms(),
		second(parseMaterials("materials.toml", materialFile, true))...) {
		t.Error(p)
	}
	if n := len(Symptoms().Symptoms); n != 33 {
		t.Errorf("%d symptoms", n)
	}
}

// rowsOf reads a table of "name: rest" lines; # begins a remark.
func rowsOf(t *testing.T, file string) map[string]string {
	t.Helper()
	data, err := os.ReadFile(filepath.Join("testdata", file))
	if err != nil {
		t.Fatal(err)
	}
	out := map[string]string{}
	for _, l := range strings.Split(string(data), "\n") {
		if name, rest, ok := strings.Cut(l, ": "); ok && !strings.HasPrefix(l, "#") {
			out[name] = rest
		}
	}
	return out
}

// TestWeightsAgree: the procedures' files name the symptoms and weights of the technician's table
// (from memory), no more and no fewer.
func TestWeightsAgree(t *testing.T) {
	lib, _ := Load("")
	want := map[string]string{}
	for name, rest := range rowsOf(t, "symptoms.txt") {
		for _, c := range strings.Split(rest, ", ") {
			id, letter, _ := strings.Cut(c, " ")
			want[name+" "+id] = map[string]string{"H": "high", "M": "medium", "L": "low"}[letter]
		}
	}
	got := map[string]string{}
	for _, p := range lib.All() {
		for _, c := range p.Symptoms {
			got[c.Name+" "+p.ID] = c.Weight
		}
	}
	for _, s := range Symptoms().Symptoms {
		for _, h := range s.Hand {
			got[s.ID+" "+h.ID] = h.Weight
		}
	}
	for key, w := range want {
		if got[key] != w {
			t.Errorf("%s is %q, the table says %q", key, got[key], w)
		}
	}
	for key, w := range got {
		if want[key] == "" {
			t.Errorf("%s is %q, the table has none", key, w)
		}
	}
	if len(want) < 150 {
		t.Errorf("only %d weights in the table", len(want))
	}
}

// TestStops: the four symptoms of fire and shock stop, and no other.
func TestStops(t *testing.T) {
	want := "breaker-trips case-tingle scorch-smell temperature-fault"
	var got []string
	for _, s := range Symptoms().Symptoms {
		if s.Stop {
			got = append(got, s.ID)
		}
	}
	if len(got) != 4 {
		t.Fatalf("%v stop", got)
	}
	for _, id := range strings.Fields(want) {
		s := Symptoms().Get(id)
		text := strings.Join(s.Page, " ")
		if !s.Stop || !strings.Contains(text, "plug") || !strings.Contains(text, "Tag") {
			t.Errorf("%s: %v %q", id, s.Stop, text)
		}
	}
	if found := Symptoms().Called("runaway heat"); len(found) != 1 ||
		found[0].ID != "temperature-fault" {
		t.Error("runaway heat is a temperature fault")
	}
}

// TestMaterialsAgree: bands and shares are those of the technician's table (common practice or from
// memory).
func TestMaterialsAgree(t *testing.T) {
	span := func(r model.Range) string { return plain(r.Low) + "-" + plain(r.High) }
	rows := rowsOf(t, "materials.txt")
	for id, want := range rows {
		m := model.FindMaterial(Materials(), id)
		if m == nil {
			t.Errorf("there is no %s", id)
			continue
		}
		basis := map[bool]string{true: "CP",
			false: "MEM"}[strings.HasPrefix(m.Basis, "common practice")]
		got := fmt.Sprintf("%s %s %s %s %s %s %s", span(m.Dry), span(m.Hours), span(m.Nozzle),
			span(m.Bed), plain(m.Abrasive), plain(m.Styrenic), basis)
		if got != want {
			t.Errorf("%s: %s, the table says %s", id, got, want)
		}
	}
	if len(rows) < 20 {
		t.Errorf("only %d rows", len(rows))
	}
}

// TestMaterialNames: a roll's own words find it; nothing is guessed.
func TestMaterialNames(t *testing.T) {
	for name, want := range map[string]string{"PLA": "pla", "pla cf": "pla-filled",
		"PA6-CF": "pa-cf", "nylon": "pa6", "TPU": "tpu", "PVC": "pvc", "unknown": "unknown", "pa": "pa6", "PLAX": "", "": ""} {
		got := ""
		if m := model.FindMaterial(Materials(), name); m != nil {
			got = m.ID
		}
		if got != want {
			t.Errorf("%q is %q, want %q", name, got, want)
		}
	}
	if m := model.FindMaterial(Materials(), "pvc"); !m.Banned || !m.Dry.Zero() {
		t.Errorf("%+v", m)
	}
}

// TestBadTables: each file has one mistake, and its problem must hold what the first line asks for.
func TestBadTables(t *testing.T) {
	lib, _ := Load("")
	for _, kind := range []string{"symptoms", "materials"} {
		files, err := filepath.Glob(filepath.Join("testdata", kind, "*.toml"))
		if err != nil || len(files) < 8 {
			t.Fatalf("%d files: %v", len(files), err)
		}
		for _, f := range files {
			t.Run(kind+"/"+filepath.Base(f), func(t *testing.T) {
				data, err := os.ReadFile(f)
				if err != nil {
					t.Fatal(err)
				}
				first, _, _ := strings.Cut(string(data), "\n")
				want, ok := strings.CutPrefix(first, "# want: ")
				if !ok {
					t.Fatal("the first line says no problem")
				}
				problems := lib.checkSymptoms(filepath.Base(f), data)
				if kind == "materials" {
					_, problems = parseMaterials(filepath.Base(f), data, true)
				}
				found := false
				for _, p := range problems {
					found = found || strings.Contains(p.Text, want)
				}
				if !found {
					t.Errorf("got %v, want %q", problems, want)
				}
			})
		}
	}
}

// FuzzTables: a table of symptoms or materials that was tampered with is problems, never a panic.
func FuzzTables(f *testing.F) {
	for _, kind := range []string{"symptoms", "materials"} {
		files, _ := filepath.Glob(filepath.Join("testdata", kind, "*.toml"))
		for _, name := range files {
			data, err := os.ReadFile(name)
			if err != nil {
				f.Fatal(err)
			}
			f.Add(data)
		}
	}
	lib, _ := Load("")
	f.Fuzz(func(t *testing.T, data []byte) {
		lib.checkSymptoms("fuzz.toml", data)
		parseMaterials("fuzz.toml", data, true)
	})
}
