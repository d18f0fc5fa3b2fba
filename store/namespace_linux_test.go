package store

import (
	"os"
	"os/exec"
	"syscall"
	"testing"

	"bench/oilcan/store/storetest"
)

// asUser runs the test again in a name space of its own, where the person who runs it has another
// number: 0 may mount there, any other may do only what the modes of files let their owner do.
func asUser(t *testing.T, uid int) {
	t.Helper()
	cmd := exec.Command(os.Args[0], "-test.run=^"+t.Name()+"$", "-test.v")
	cmd.Env = append(os.Environ(), "OILCAN_TEST_AS_USER=1")
	cmd.SysProcAttr = &syscall.SysProcAttr{
		Cloneflags:  syscall.CLONE_NEWUSER | syscall.CLONE_NEWNS,
		UidMappings: []syscall.SysProcIDMap{{ContainerID: uid, HostID: os.Getuid(), Size: 1}},
		GidMappings: []syscall.SysProcIDMap{{ContainerID: uid, HostID: os.Getgid(), Size: 1}},
	}
	if os.Getenv("OILCAN_TEST_AS_USER") != "" {
		storetest.Lacks(t, "another user", syscall.EPERM)
	}
	out, err := cmd.CombinedOutput()
	if _, ran := err.(*exec.ExitError); ran {
		t.Fatalf("as user %d: %v\n%s", uid, err, out)
	} else if err != nil {
		storetest.Lacks(t, "a name space of its own", err)
	}
	t.Logf("as user %d:\n%s", uid, out)
}
