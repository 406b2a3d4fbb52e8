# The site and its worker in one image; which of them runs is the compose file's to say.
FROM python:3.13-slim-trixie

SHELL ["/bin/bash", "-o", "pipefail", "-c"]
ENV PYTHONUNBUFFERED=1 PYTHONFAULTHANDLER=1 PIP_NO_CACHE_DIR=1 PIP_DISABLE_PIP_VERSION_CHECK=1

# Pango and HarfBuzz set the PDFs; pg_dump takes the backup before a migration.
# hadolint ignore=DL3008
RUN apt-get update \
    && apt-get install -y --no-install-recommends \
        fonts-dejavu-core libharfbuzz-subset0 libpango-1.0-0 libpangoft2-1.0-0 postgresql-client \
    && rm -rf /var/lib/apt/lists/*

WORKDIR /app
COPY requirements.txt ./
RUN pip install --no-cache-dir --require-hashes --requirement requirements.txt
COPY . ./

ENV DATA_DIR=/data STATIC_DIR=/app/collected
RUN python manage.py collectstatic --no-input --verbosity 0 \
    && install --directory --owner=10001 --group=10001 /data

USER 10001:10001
VOLUME /data
EXPOSE 8000

HEALTHCHECK --interval=30s --timeout=5s --start-period=30s \
    CMD ["python", "-c", "import urllib.request; urllib.request.urlopen('http://127.0.0.1:8000/health/', timeout=4)"]

CMD ["gunicorn", "workshop.wsgi", "--bind", "0.0.0.0:8000", "--workers", "3", "--no-control-socket", "--worker-tmp-dir", "/dev/shm", "--access-logfile", "-", "--access-logformat", "%(t)s %(m)s %(s)s %(b)s %(L)s"]
