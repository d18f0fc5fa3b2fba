package procedures

import "testing"

// TestLibraryIsClean reads every built-in file by every rule and lists all problems.
func TestLibraryIsClean(t *testing.T) {
	l, problems := CheckLibrary()
	for _, p := range problems {
		t.Error(p)
	}
	t.Logf("%d procedures, %d set-up actions", len(l.All()), len(l.SetUps()))
}
