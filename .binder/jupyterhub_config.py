# What a teacher sets for a class of thirty on a machine: pip install jupyterhub, npm install -g configurable-http-proxy; install
# oddswap into the same environment with ../.binder/requirements.txt, and start it with: jupyterhub -f jupyterhub_config.py
# Tried with JupyterHub 6.1 and three learners at once: 160 MB for each server and 310 MB for each kernel, measured (shared pages
# counted once) after lesson 00 had run to its end, and 120 MB for the hub. So thirty learners with one lesson open need 15 GB.
from pathlib import Path

from oddswap.commands.course import LAB_CONFIG, course_folder, laid_out

c = get_config()  # noqa: F821
c.JupyterHub.spawner_class = "simple"  # all run as the hub's own user: for a closed room, never for the open network
c.JupyterHub.authenticator_class = "dummy"  # anybody who knows the word: give each learner a name of their own
c.DummyAuthenticator.password = "write one on the blackboard"
c.Authenticator.allow_all = True
c.SimpleLocalProcessSpawner.home_dir_template = "/srv/learners/{username}"
c.Spawner.environment = {"JUPYTER_CONFIG_PATH": str(LAB_CONFIG)}
c.Spawner.notebook_dir = "oddswap-course"
c.Spawner.default_url = "/oddswap"
c.Spawner.http_timeout = c.Spawner.start_timeout = 180  # thirty who start at once
c.Spawner.pre_spawn_hook = lambda spawner: laid_out(course_folder(), Path(spawner.home_dir) / "oddswap-course")
