"""Executes notebooks and makes sure that each got to its end; a kernel that died in silence is no success."""
import signal
import sys

import nbclient
import nbformat

SECONDS_PER_NOTEBOOK = 300
END = "the notebook got to its end"


def stop(signum, frame):
    raise TimeoutError(f"stopped after {SECONDS_PER_NOTEBOOK} s")


def text_of(outputs):
    return "".join(o.get("text", "") or o.get("data", {}).get("text/plain", "") for o in outputs)


def execute(path):
    notebook = nbformat.read(path, as_version=4)
    nbformat.validate(notebook)
    for cell in notebook.cells:
        if cell.cell_type == "code":
            cell.outputs = []
    notebook.cells.append(nbformat.v4.new_code_cell(f'Console.WriteLine("{END}");'))
    client = nbclient.NotebookClient(notebook, timeout=SECONDS_PER_NOTEBOOK, kernel_name=".net-csharp", resources={"metadata": {"path": "notebooks"}})
    signal.signal(signal.SIGALRM, stop)
    signal.alarm(SECONDS_PER_NOTEBOOK)
    try:
        client.execute()
    finally:
        signal.alarm(0)
    if END not in text_of(notebook.cells[-1].outputs):
        raise RuntimeError("the last cell printed no end mark: the kernel died on the way")
    figures = sum("<img" in o.get("data", {}).get("text/html", "") for c in notebook.cells if c.cell_type == "code" for o in c.outputs)
    if figures == 0:
        raise RuntimeError("no figure was shown")
    return figures


failed = 0
for path in sys.argv[1:]:
    try:
        print(f"{path}: executed in Jupyter, {execute(path)} figures", flush=True)
    except Exception as e:
        failed += 1
        print(f"FAILED: {path}: {type(e).__name__}: {e}", flush=True)
sys.exit(1 if failed else 0)
