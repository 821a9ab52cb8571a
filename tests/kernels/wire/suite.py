"""The public Jupyter kernel test suite on this kernel, with a sample for every one of its tests.

Run with `python -m unittest -v suite` in this folder, with JUPYTER_PATH set to a folder that holds
kernels/banquette-test/kernel.json.
"""

import unittest

import jupyter_kernel_test

KERNEL = "banquette-test"


class BanquetteTests(jupyter_kernel_test.KernelTests):
    kernel_name = KERNEL
    language_name = "typescript"
    file_extension = ".ts"
    code_hello_world = "console.log('hello, world')"
    code_stderr = "console.error('to the error stream')"
    completion_samples = [
        {"text": "Math.hyp", "matches": {"hypot"}},
        {"text": "[1].toSor", "matches": {"toSorted"}},
        {"text": "/* \U0001f30a */ JSON.str", "matches": {"stringify"}},
    ]
    complete_code_samples = ["1", "const depth_m = 1.5", "function f() { return 3 }", "{}", ""]
    incomplete_code_samples = ["function f(", "const spacings_m = [1,", "`open", "if (1 > 2) {"]
    invalid_code_samples = ["const = 3", "a b c", "let 1x = 2"]
    code_page_something = "Math.hypot?"
    code_generate_error = "throw new RangeError('too deep')"
    code_execute_result = [
        {"code": "1 + 2 + 3", "result": "6"},
        {"code": "[...'abc'].reverse().join('')", "result": "'cba'"},
        {"code": "[1, 2, 3].map((n) => n * n)", "result": "[ 1, 4, 9 ]"},
    ]
    code_display_data = [
        {"code": "display({ [Symbol.for('Jupyter.display')]: () => ({ 'text/html': '<b>x</b>', 'text/plain': 'x' }) });", "mime": "text/html"},
        {"code": "display('text');", "mime": "text/plain"},
    ]
    code_history_pattern = "1 ? 2*"
    supported_history_operations = ("tail", "range", "search")
    code_inspect_sample = "Math.hypot"
    code_clear_output = "clearOutput()"

    # What the suite has no sample for.

    def test_user_expressions(self):
        self.flush_channels()
        self.kc.execute("const six = 6", user_expressions={"double": "six * 2", "bad": "sevn"})
        reply = self.get_non_kernel_info_reply(timeout=15)
        values = reply["content"]["user_expressions"]
        self.assertEqual(values["double"]["data"]["text/plain"], "12")
        self.assertEqual(values["bad"]["status"], "error")

    def test_comm_info(self):
        self.flush_channels()
        self.kc.comm_info()
        reply = self.get_non_kernel_info_reply(timeout=15)
        jupyter_kernel_test.validate_message(reply, "comm_info_reply")
        self.assertEqual(reply["content"]["comms"], {})

    def test_input(self):
        self.flush_channels()
        self.kc.execute("const answer = await prompt('How deep? '); answer + ' m'", allow_stdin=True)
        asked = self.kc.get_stdin_msg(timeout=15)
        self.assertEqual(asked["header"]["msg_type"], "input_request")
        self.assertEqual(asked["content"], {"prompt": "How deep? ", "password": False})
        self.kc.input("2.5")
        reply = self.get_non_kernel_info_reply(timeout=15)
        self.assertEqual(reply["content"]["status"], "ok")


class WelcomeTests(jupyter_kernel_test.IopubWelcomeTests):
    kernel_name = KERNEL
    support_iopub_welcome = True


if __name__ == "__main__":
    unittest.main(verbosity=2)
