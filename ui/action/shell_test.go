package action

import (
	"os/exec"
	"testing"

	"bench/oilcan/store/storetest"
)

// TestTypedIsOneWordForTheShell: sh, whatever the name, gives the program this one word.
func TestTypedIsOneWordForTheShell(t *testing.T) {
	sh, err := exec.LookPath("sh")
	if err != nil {
		storetest.Lacks(t, "sh", err)
	}
	for _, name := range []string{"Heron", "Heron 2", "O'Hara", `say "hi"`, "$HOME", "a$(echo b)c",
		"`id`", `back\slash`, "!!", "*",
		"a;b", "a|b", "a&b", "~", "~root", "#1", "a#1", "{a,b}", "[ab]", "a>b", "a=b", "^x", "tab\there", "", "Möwe", "north/3", "'", "''"} {
		out, err := exec.Command(sh, "-c", "printf '%s|' "+Typed(name)).Output()
		if err != nil || string(out) != name+"|" {
			t.Errorf("%q is typed %s: sh reads %q, %v", name, Typed(name), out, err)
		}
	}
	for name, want := range map[string]string{"Heron": "Heron", "heron-2": "heron-2", "Äö": "Äö",
		"north/3":    "north/3",
		"Grey Heron": "'Grey Heron'", "O'Hara": `'O'\''Hara'`, "a$b": "'a$b'"} {
		if got := Typed(name); got != want {
			t.Errorf("%s is typed %s, want %s", name, got, want)
		}
	}
}
