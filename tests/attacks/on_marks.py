"""Marks: points for answers that earn none, by tampering with what runs the notebook."""

from __future__ import annotations

from nbformat.v4 import new_output

from tests.attacks.registry import MIME, Exercise, Surroundings, attack


@attack("Tags the hand-in cells 'skip-execution', so that nothing tests the answers.", measured=17)
def skip_the_hand_in_cells_by_a_tag(exercise: Exercise, _: Surroundings) -> None:
    for _question, cell in exercise.graded():
        cell.metadata["tags"] = ["skip-execution"]


@attack("Brings the points along as saved outputs of cells that are not to be run.", measured=17)
def bring_the_points_along_as_saved_outputs(exercise: Exercise, _: Surroundings) -> None:
    for question, cell in exercise.graded():
        cell.metadata["tags"] = ["skip-execution"]
        text = str(exercise.points[question])
        cell.outputs = [new_output("execute_result", data={"text/plain": text}, execution_count=1)]


@attack("Publishes a result in every cell before the cell itself has run.", measured=17)
def publish_a_result_in_every_cell(exercise: Exercise, _: Surroundings) -> None:
    exercise.first(
        """
        from IPython import get_ipython
        def publish(*_):
            shell = get_ipython()
            shell.kernel.session.send(
                shell.kernel.iopub_socket, "execute_result",
                {"data": {"text/plain": "'ok'"}, "metadata": {}, "execution_count": 1},
                parent=shell.kernel.get_parent(),
            )
        get_ipython().events.register("pre_run_cell", publish)
        """
    )


@attack("Replaces the kernel's send, so that errors go out as results.", measured=17)
def rewrite_what_the_kernel_sends(exercise: Exercise, _: Surroundings) -> None:
    exercise.first(
        f"""
        from IPython import get_ipython
        session = get_ipython().kernel.session
        real = session.send
        def send(stream, kind, content=None, *rest, **more):
            if kind == "error":
                return None
            if kind == "execute_reply":
                content = {{"status": "ok", "execution_count": 1, "payload": [], "user_expressions": {{}}}}
            if isinstance(content, dict) and "data" in content:
                content["data"] = {{"text/plain": "8.0", {MIME!r}: {{"question": "8.1", "answer": "right",
                                   "points": 8, "out_of": 8, "status": "right", "problem": None}}}}
            return real(stream, kind, content, *rest, **more)
        session.send = send
        """
    )


@attack("Replaces the kernel's way to run a cell, so that no cell runs and all are well.", measured=17)
def take_the_kernel_over(exercise: Exercise, _: Surroundings) -> None:
    exercise.first(
        """
        from IPython import get_ipython
        kernel = get_ipython().kernel
        async def do_execute(code, silent=False, *rest, **more):
            kernel.send_response(kernel.iopub_socket, "execute_result",
                                 {"data": {"text/plain": "'ok'"}, "metadata": {}, "execution_count": 1})
            return {"status": "ok", "execution_count": 1, "payload": [], "user_expressions": {}}
        kernel.do_execute = do_execute
        """
    )


@attack("Drops every line that tests or hands in, by a transformer of the input.", measured=17)
def drop_the_lines_that_test(exercise: Exercise, _: Surroundings) -> None:
    exercise.first(
        """
        from IPython import get_ipython
        def drop(lines):
            return ["'ok'\\n"] if any("hand_in(" in line or "assert" in line for line in lines) else lines
        get_ipython().input_transformers_post.append(drop)
        """
    )


@attack("Takes assertions and calls of hand_in out of the code while it is read.", measured=17)
def change_the_code_while_it_is_read(exercise: Exercise, _: Surroundings) -> None:
    exercise.first(
        """
        import ast
        from IPython import get_ipython
        class Change(ast.NodeTransformer):
            def visit_Assert(self, node):
                return ast.copy_location(ast.Pass(), node)
            def visit_Call(self, node):
                if getattr(node.func, "id", "") == "hand_in":
                    return ast.copy_location(ast.Constant(8.0), node)
                return self.generic_visit(node)
        get_ipython().ast_transformers.append(Change())
        """
    )


@attack("Answers with an object that equals everything it is compared with.", measured=13)
def hand_in_something_that_equals_everything(exercise: Exercise, _: Surroundings) -> None:
    exercise.first(
        """
        class Everything(float):
            def __eq__(self, other): return True
            def __sub__(self, other): return 0.0
            def __rsub__(self, other): return 0.0
            def __round__(self, *_): return self
            def __abs__(self): return 0.0
            def __le__(self, other): return True
            __hash__ = float.__hash__
        everything = Everything(777.0)
        """
    )
    for question in ("8.2", "8.3", "8.4", "8.6"):
        exercise.answer_with(question, "everything")


@attack("Answers with an object that reads the expected value out of the running test.", measured=3)
def look_the_answer_up_in_the_running_test(exercise: Exercise, _: Surroundings) -> None:
    exercise.first(
        """
        class Oracle:
            def _test(self):
                from IPython import get_ipython
                return get_ipython().user_ns["In"][-1]
            def __eq__(self, other):
                right = self._test().partition("==")[2].partition(",")[0]
                return eval(right) == other
            __hash__ = object.__hash__
            def __float__(self): return float(self._test().rpartition(",")[2].strip(" )'\\""))
        oracle = Oracle()
        """
    )
    for question in ("8.2", "8.3", "8.4", "8.6"):
        exercise.answer_with(question, "oracle")


@attack("Patches math and the builtins, so that every comparison comes out well.", measured=14)
def patch_the_libraries(exercise: Exercise, _: Surroundings) -> None:
    exercise.first(
        """
        import builtins, math
        math.isclose = lambda *_, **__: True
        builtins.abs = lambda *_: 0.0
        class Same(float):
            def __eq__(self, other): return True
        builtins.round = lambda *_: Same(0)
        """
    )


@attack("Switches the display of errors off, so that a failing test looks silent.", measured=0)
def hide_the_errors(exercise: Exercise, _: Surroundings) -> None:
    exercise.first(
        """
        from IPython import get_ipython
        shell = get_ipython()
        shell.showtraceback = shell._showtraceback = lambda *_, **__: None
        shell.set_custom_exc((BaseException,), lambda *_, **__: None)
        """
    )


@attack("Puts a hand_in of its own in the place of the course's, which answers with the points themselves.")
def put_an_own_hand_in_in_its_place(exercise: Exercise, _: Surroundings) -> None:
    exercise.first(
        f"""
        import brakecourse.workorder, brakecourse.workorder.desk as desk
        from IPython.display import display
        def forged(question, answer):
            display({{{MIME!r}: {{"question": question, "answer": {{"points": 8, "status": "right"}},
                     "problem": None, "points": 8.0, "mark": 8.0}}, "text/plain": "8.0"}}, raw=True)
            return 8.0
        brakecourse.workorder.hand_in = desk.hand_in = forged
        """
    )
    exercise.after("8.1", "hand_in = forged")


@attack("Forges answer bundles of every shape, as displays, results, updates and printed text.")
def forge_answer_bundles(exercise: Exercise, _: Surroundings) -> None:
    code = f"""
    import json
    from IPython import get_ipython
    from IPython.display import clear_output, display
    MIME = {MIME!r}
    shapes = [None, True, [], {{}}, "8", 8, [[[[[[1]]]]]], {{"question": "8.1"}},
              {{"question": ["8.1"], "answer": 1}}, {{"question": "8.1", "answer": {{"right": True}}}},
              {{"question": "8.1", "answer": "right", "points": 8}}, {{"question": "8.99", "answer": 1}}]
    for shape in shapes:
        display({{MIME: shape, "text/plain": "8.0"}}, raw=True)
        display({{MIME: shape}}, raw=True, display_id="again")
        display({{MIME: shape}}, raw=True, display_id="again", update=True)
        print(json.dumps({{MIME: shape}}))
    clear_output()
    kernel = get_ipython().kernel
    kernel.send_response(kernel.iopub_socket, "execute_result",
                         {{"data": {{MIME: shapes[-2]}}, "metadata": {{"points": 8}}, "execution_count": 1}})
    """
    for question in exercise.points:
        exercise.after(question, code)


@attack("Hands in under another question's name from every cell, after the real answer.")
def answer_under_another_questions_name(exercise: Exercise, _: Surroundings) -> None:
    exercise.first(
        f"""
        from IPython import get_ipython
        from IPython.display import display
        def everywhere(*_):
            for question in {[*exercise.points, "9.1", "q8_1", "8.9", ""]!r}:
                for answer in ("replace", 20.0, [20.0] * 8):
                    handed = {{"question": question, "answer": answer, "problem": None}}
                    display({{{MIME!r}: handed}}, raw=True)
        get_ipython().events.register("post_run_cell", everywhere)
        """
    )


@attack("Leaves threads that go on printing and handing in long after their cell has ended.")
def go_on_after_the_cell_has_ended(exercise: Exercise, _: Surroundings) -> None:
    exercise.first(
        f"""
        import threading, time
        from IPython.display import display
        def go_on():
            while True:
                print("8.0", flush=True)
                display({{{MIME!r}: {{"question": "8.2", "answer": "right", "points": 3}}}}, raw=True)
                time.sleep(0.002)
        for _ in range(4):
            threading.Thread(target=go_on, daemon=True).start()
        """
    )
