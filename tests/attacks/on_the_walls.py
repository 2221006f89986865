"""The walls: reaching out of the sandbox, to other processes, to the network and to the grader itself."""

from __future__ import annotations

from tests.attacks.on_the_class import QUOTE, look_at, tell_in_the_answers
from tests.attacks.registry import MARK, MIME, Exercise, Surroundings, attack, tried


@attack("Opens the memory of the grader's processes for writing.")
def write_into_the_graders_memory(exercise: Exercise, _: Surroundings) -> None:
    exercise.first("import os\n" + tried(
        "for number in [os.getppid(), *range(1, 400), *map(int, filter(str.isdigit, os.listdir('/proc')))]:\n"
        "    try:\n"
        "        if number != os.getpid():\n"
        "            open(f'/proc/{number}/mem', 'wb')\n"
        "            print('opened', number)\n"
        "    except OSError:\n"
        "        pass"
    ))  # fmt: skip


@attack("Attaches a debugger to every process and reads the words of its memory.")
def attach_to_other_processes(exercise: Exercise, _: Surroundings) -> None:
    exercise.first(
        """
        import ctypes, os
        libc = ctypes.CDLL(None, use_errno=True)
        ATTACH, DETACH = 16, 17
        for number in [os.getppid(), *range(1, 300)]:
            if number not in (0, os.getpid()) and libc.ptrace(ATTACH, number, None, None) == 0:
                libc.process_vm_readv(number, None, 0, None, 0, 0)
                libc.ptrace(DETACH, number, None, None)
        """
    )


@attack("Stops, then kills, its parent and every process it may signal.")
def stop_and_kill_every_process(exercise: Exercise, _: Surroundings) -> None:
    exercise.first(
        """
        import os, signal
        for how in (signal.SIGSTOP, signal.SIGTERM, signal.SIGKILL):
            for number in (os.getppid(), -os.getppid(), *range(1, 300), -1):
                if number not in (0, os.getpid()):
                    try:
                        os.kill(number, how)
                    except OSError:
                        pass
        """
    )


@attack("Calls out over TCP.")
def call_out_over_tcp(exercise: Exercise, where: Surroundings) -> None:
    exercise.first("import socket\n" + "".join(
        tried(f"socket.create_connection(({host!r}, {where.tcp}), 1).sendall(b'here I am')")
        for host in ("127.0.0.1", "::1", "localhost")
    ))  # fmt: skip


@attack("Sends out by UDP and asks a name server.")
def call_out_by_udp_and_names(exercise: Exercise, where: Surroundings) -> None:
    exercise.first("import socket\n" + tried(
        f"socket.socket(type=socket.SOCK_DGRAM).sendto(b'here I am', ('127.0.0.1', {where.udp}))"
    ) + tried("print('resolved', socket.getaddrinfo('secret.example.com', 80))") + tried(
        "socket.socket(socket.AF_INET, socket.SOCK_RAW, socket.IPPROTO_ICMP).sendto(b'x', ('127.0.0.1', 0))"
    ))  # fmt: skip


@attack("Calls out through unix sockets, with a path and without.")
def call_out_through_unix_sockets(exercise: Exercise, where: Surroundings) -> None:
    exercise.first("import socket\n" + "".join(
        tried(
            "one = socket.socket(socket.AF_UNIX)\n"
            f"one.connect({address.replace('@', chr(0), 1)!r})\n"
            "one.sendall(b'here I am')"
        )
        for address in where.unix
    ))  # fmt: skip


@attack("Lays symbolic and hard links to the class's files, and lets tidying up follow them.")
def lay_links_in_the_working_folder(exercise: Exercise, where: Surroundings) -> None:
    exercise.first(
        QUOTE
        + f"targets = {[str(where.outside), str(where.root), *map(str, where.secrets), '/', '/etc']!r}\n"
        + tried(
            """
            import tempfile
            writable = [".", tempfile.gettempdir()]
            writable += [str(path.parent) for path in Path("/tmp").glob("*/*")]
            for folder in writable:
                for number, target in enumerate(targets):
                    for how in (os.symlink, os.link):
                        try:
                            how(target, f"{folder}/link-{how.__name__}-{number}")
                        except OSError:
                            pass
            """
        )
        + look_at(["."])
        + tried("os.rename('work_order.json', 'gone')\nos.symlink('/etc/passwd', 'work_order.json')")
    )
    tell_in_the_answers(exercise)


@attack("Climbs out of its root by an open descriptor, mounts, and a namespace of its own.")
def break_out_of_the_root(exercise: Exercise, where: Surroundings) -> None:
    exercise.first(
        QUOTE
        + tried(
            """
            import ctypes
            libc = ctypes.CDLL(None, use_errno=True)
            print(libc.unshare(0x10000000 | 0x00020000))
            print(libc.mount(b"proc", b"/tmp", b"proc", 0, None))
            print(libc.mount(None, b"/", None, 0x20 | 0x1, None))
            """
        )
        + tried(
            "os.mkdir('jail')\ntop = os.open('.', 0)\nos.chroot('jail')\nos.fchdir(top)\nos.chdir('../' * 99)"
        )
        + "".join(
            tried(f"seen.append(open('/proc/self/fd/{number}').read(500))\nprint(seen[-1])")
            for number in range(3, 12)
        )
        + look_at([*map(str, where.secrets), str(where.root / ".secret").lstrip("/")])
        + tried(f"open({str(where.outside / MARK)!r}, 'w').write('out')")
    )
    tell_in_the_answers(exercise)


@attack("Sends messages that are none: broken JSON, half characters, headers and shapes of the wrong kind.")
def send_messages_that_are_none(exercise: Exercise, _: Surroundings) -> None:
    exercise.first(
        f"""
        import json
        from IPython import get_ipython
        kernel = get_ipython().kernel
        session, place = kernel.session, kernel.iopub_socket
        parent = kernel.get_parent()
        half = "\\ud800 \\udfff"
        session.pack = lambda thing: json.dumps(thing, default=str).encode()
        kinds = "stream display_data execute_result error status execute_input comm_open clear_output"
        for kind in kinds.split():
            for content in (
                {{}}, {{"name": half, "text": half}}, {{"name": "stdout", "text": half}},
                {{"name": ["stdout"], "text": {{"a": 1}}}},
                {{"data": {{"text/plain": half, "image/png": half}},
                "metadata": {{"a": half}}, "execution_count": half}}, {{"ename": half, "evalue": half,
                "traceback": [half, 7, None]}}, {{"execution_state": half}}, {{"execution_count": "<b>"}},
                {{"data": {{{MIME!r}: {{"question": "8.2", "answer": half}}}}, "metadata": {{}}}},
            ):
                session.send(place, kind, content, parent=parent)
        """
    )
    exercise.first(
        """
        from IPython import get_ipython
        kernel = get_ipython().kernel
        real = kernel.session.pack
        kernel.session.pack = lambda thing: b'{"NaN": NaN, "deep": ' + b"[" * 3000
        try:
            kernel.session.send(kernel.iopub_socket, "stream", {"name": "stdout", "text": "x"})
        finally:
            kernel.session.pack = real
        """
    )


GARBLE = """
import json, os, struct
def frame(*said):
    body = json.dumps(said).encode()
    return struct.pack(">I", len(body)) + body
def everywhere(words):
    for number in range(3, 64):
        try:
            os.write(number, words)
        except OSError:
            pass
"""


@attack("Speaks to the grader itself, on every open file: outcomes, results, half messages.")
def speak_to_the_grader_itself(exercise: Exercise, _: Surroundings) -> None:
    exercise.first(
        GARBLE
        + f"""
evil = "<script>window.attacked=1</script>\\ud800"
for said in (
    ["execute_result", {{"data": {{"text/plain": "8.0", "image/png": evil}}, "execution_count": evil}}],
    ["display_data", {{"data": {{{MIME!r}: {{"question": "8.1", "answer": "right", "points": 8}}}}}}],
    ["error", {{"ename": evil, "evalue": evil, "traceback": [evil, 7, None]}}], ["stream", {{"name": evil}}],
    ["stream", {{"name": "stdout", "text": evil}}], ["done", {{}}], ["done", None], ["begun", 7],
    ["done"], [],
    ["display_data", {{"data": {{"text/plain": [[1]], {MIME!r}: 8}}}}], [{{}}, []], ["ended", True],
):
    everywhere(frame(*said))
"""
    )


@attack("Sends the grader a message that says it is four gigabytes long, and one that nests without end.")
def send_the_grader_what_never_ends(exercise: Exercise, _: Surroundings) -> None:
    deep = """
body = b'["stream", ' + b"[" * 50_000
everywhere(struct.pack(">I", len(body)) + body)
"""
    exercise.after("8.2", GARBLE + "everywhere(bytes([255] * 8))")
    exercise.after("8.4", GARBLE + deep)


@attack("Speaks to the grader without a pause, so that its time never seems to be up.")
def speak_to_the_grader_without_a_pause(exercise: Exercise, _: Surroundings) -> None:
    exercise.after(
        "8.8",
        GARBLE
        + """
words = frame("stream", {"name": "stdout", "text": ""}) * 500
while True:
    everywhere(words)
""",
    )
